import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Logger } from 'pino';
import type { Inbound } from '../desk/carrier.ts';
import type { Instant } from '../time/instant.ts';
import { failureOf } from './failure.ts';
import { readTextForm } from './text-form.ts';

/**
 * The last resort for a genuine text that the records could not take: its form, appended to a file on disk, one line of
 * JSON each. The file is there only while a text waits in it. One process at a time may use a file.
 */
export interface Spool {
  /**
   * Keeps a signed form; resolved once it is on the disk itself.
   * @throws Error of the file system when it cannot be written.
   */
  append(form: unknown, at: Instant): Promise<void>;
  /**
   * Puts each waiting text through `receive`, oldest first, with its own message id, so that one taken before changes
   * nothing. What was taken leaves the file at once for all; what fails again stays. Nobody waits for these replies any
   * more: the desk sends them by itself, as it does with any reply whose delivery is not confirmed.
   */
  replay(receive: (inbound: Inbound) => Promise<unknown>): Promise<{ done: number; left: number }>;
}

async function linesOf(file: string): Promise<string[]> {
  try {
    return (await readFile(file, 'utf8')).split('\n').filter((line) => line !== '');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}

/** A new or renamed file is safe only when its folder is on the disk too. */
async function syncFolderOf(file: string): Promise<void> {
  const folder = await open(dirname(file), 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

async function writeThrough(file: string, flags: 'a' | 'w', content: (size: number) => string): Promise<void> {
  // Readable by nobody else: it holds guests' words and numbers.
  const handle = await open(file, flags, 0o600);
  try {
    await handle.writeFile(content((await handle.stat()).size));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await syncFolderOf(file);
}

async function keepOnly(file: string, lines: readonly string[]): Promise<void> {
  if (lines.length === 0) {
    await rm(file, { force: true });
    return syncFolderOf(file);
  }
  const next = `${file}.next`;
  await writeThrough(next, 'w', () => lines.join('\n'));
  await rename(next, file);
  await syncFolderOf(file);
}

function inboundOf(line: string): Inbound | null {
  const { form } = JSON.parse(line) as { form: unknown };
  const read = readTextForm(form);
  return read.kind === 'text' ? read.inbound : null;
}

/**
 * The file of a process that answers.
 * @param port of one of several processes, which on one machine listen on ports of their own; null for the only one
 */
export function spoolFileIn(dataDir: string, port: number | null): string {
  return join(dataDir, port === null ? 'spool.jsonl' : `spool-${port}.jsonl`);
}

/** The spool in a file, which need not exist yet. */
export function openSpool(file: string, log: Logger): Spool {
  let last: Promise<unknown> = Promise.resolve();
  /** Changes of the file wait for each other, whether or not the one before succeeded. */
  function inTurn<T>(change: () => Promise<T>): Promise<T> {
    const turn = last.then(change, change);
    last = turn.catch(() => undefined);
    return turn;
  }

  async function taken(line: string, receive: (inbound: Inbound) => Promise<unknown>): Promise<boolean> {
    try {
      const inbound = inboundOf(line);
      if (inbound === null) throw new Error(`a line of ${file} is no text form; look at it and remove it by hand`);
      await receive(inbound);
      return true;
    } catch (error) {
      log.error(
        { failure: failureOf(error, [line]), file },
        'a spooled text could not be taken; it stays in the spool',
      );
      return false;
    }
  }

  return {
    append(form, at) {
      return inTurn(async () => {
        await mkdir(dirname(file), { recursive: true, mode: 0o700 });
        // The line end comes first, so that a line torn by a crash cannot swallow the next one.
        await writeThrough(file, 'a', (size) => `${size === 0 ? '' : '\n'}${JSON.stringify({ at, form })}`);
      });
    },

    async replay(receive) {
      const waiting = await inTurn(() => linesOf(file));
      if (waiting.length === 0) return { done: 0, left: 0 };
      const done = new Set<string>();
      for (const line of waiting) if (await taken(line, receive)) done.add(line);
      return inTurn(async () => {
        // Read again: texts may have been spooled in the meantime.
        const left = (await linesOf(file)).filter((line) => !done.has(line));
        if (done.size > 0) await keepOnly(file, left);
        return { done: done.size, left: left.length };
      });
    },
  };
}
