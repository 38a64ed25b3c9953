import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import process from 'node:process';
import { pino } from 'pino';
import { nightbellApp } from '../../src/app.ts';
import { loopbackCarrier } from '../../src/carrier/loopback.ts';
import { staticVoice } from '../../src/carrier/static-fallback.ts';
import { openSpool } from '../../src/carrier/spool.ts';
import { openNight } from '../../src/night.ts';
import { settingsFrom } from '../../src/settings.ts';
import { instantOf } from '../../src/time/instant.ts';

const VOICE_FALLBACK = staticVoice({
  outfitName: 'Quillmere Basin Oxygen',
  emergencyNumber: '911',
  directPhone: '+19705550190',
});

/**
 * A program for a test: the demo desk on a folder at a time, which is killed as soon as a text is committed and before
 * anything of the reply has left it. Says on its first line where it listens.
 */
const [folder = '', time = '', token = '', publicUrl = ''] = process.argv.slice(2);
const log = pino({ level: 'silent' });
const now = () => instantOf(time);
const settings = settingsFrom({ DATA_DIR: folder });
const night = await openNight({ settings, carrier: loopbackCarrier(log), air: null, log, now });
const desk: typeof night.desk = {
  ...night.desk,
  async receive(inbound) {
    const reply = await night.desk.receive(inbound);
    process.kill(process.pid, 'SIGKILL');
    return reply;
  },
};
const spool = openSpool(join(folder, 'spool.jsonl'), log);
const server = nightbellApp({
  desk,
  spool,
  log,
  token,
  publicUrl,
  now,
  pages: null,
  voiceFallback: VOICE_FALLBACK,
}).listen(0, '127.0.0.1');
await once(server, 'listening');
console.log(`http://127.0.0.1:${(server.address() as AddressInfo).port}`);
