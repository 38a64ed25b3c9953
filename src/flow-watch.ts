import { execFile } from 'node:child_process';
import { watch } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { FlowBook } from './flow/book.ts';
import { hashOf } from './flow/book.ts';
import { loadBook } from './flow/load.ts';
import { ProblemsError } from './reading/yaml.ts';

/** What came of a look at edited flows. */
export type TakenUp =
  | { readonly taken: true; readonly hash: string }
  | { readonly taken: false; readonly reason: string };

const CHECK = join(import.meta.dirname, 'commands/check.ts');
/** An editor writes in several steps; the flows are looked at when it has been quiet for so long. */
const SETTLED_AFTER_MS = 500;

/** The whole check takes seconds of work: in a process of its own, so that no guest waits for it. Null when all is well. */
async function whatIsWrong(directory: string): Promise<string | null> {
  try {
    await promisify(execFile)(process.execPath, [CHECK, directory]);
    return null;
  } catch (error) {
    const { stdout, stderr } = error as { stdout?: string; stderr?: string };
    return `${stdout ?? ''}${stderr ?? ''}`.trim() || String(error);
  }
}

/**
 * Looks at the flows of a folder and hands them over when they pass their checks; else says why not, and the desk goes on
 * with those it has.
 */
export async function takeUpFlows(directory: string, takeUp: (book: FlowBook) => Promise<void>): Promise<TakenUp> {
  try {
    const { book } = loadBook(directory);
    const wrong = await whatIsWrong(directory);
    if (wrong !== null) return { taken: false, reason: wrong };
    await takeUp(book);
    return { taken: true, hash: hashOf(book) };
  } catch (error) {
    if (error instanceof ProblemsError) return { taken: false, reason: error.message };
    throw error;
  }
}

/** Watches a folder of flows while the desk runs. Returns what stops it. */
export function watchFlows(
  directory: string,
  takeUp: (book: FlowBook) => Promise<void>,
  say: (result: TakenUp) => void,
): () => void {
  let settling: NodeJS.Timeout | undefined;
  let looking: Promise<unknown> = Promise.resolve();
  const look = (): void => {
    looking = looking
      .then(() => takeUpFlows(directory, takeUp))
      .catch((error: unknown): TakenUp => ({ taken: false, reason: String(error) }))
      .then(say);
  };
  const watcher = watch(directory, (_event, file) => {
    if (file === null || !file.endsWith('.yaml')) return;
    clearTimeout(settling);
    settling = setTimeout(look, SETTLED_AFTER_MS);
  });
  return () => {
    clearTimeout(settling);
    watcher.close();
  };
}
