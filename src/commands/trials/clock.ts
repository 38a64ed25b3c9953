import { readFileSync } from 'node:fs';

/**
 * Loaded before the desk in a trial (`node --import`): its clock is the machine's and as many milliseconds as the file
 * `TRIAL_CLOCK` says, read again and again. The desk itself knows nothing of it.
 */
const EACH_MS = 20;
const file = process.env['TRIAL_CLOCK'];
const machineNow = Date.now.bind(Date);
let aheadMs = 0;

function read(): void {
  // While the file is being written it may be empty for a moment.
  const written = file === undefined ? '' : readFileSync(file, 'utf8');
  if (/^-?\d+$/.test(written)) aheadMs = Number(written);
}

read();
setInterval(read, EACH_MS).unref();
Date.now = () => machineNow() + aheadMs;
