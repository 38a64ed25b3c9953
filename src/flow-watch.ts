import { execFile } from 'node:child_process';
import { watch } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { FlowBook } from './flow/book.ts';
import { hashOf } from './flow/book.ts';
import { loadBook } from './flow/load.ts';
import { ProblemsError } from './reading/yaml.ts';
import type { Instant } from './time/instant.ts';

/** What came of a look at edited flows. */
export type TakenUp =
  | { readonly taken: true; readonly hash: string }
  | { readonly taken: false; readonly reason: string };

const CHECK = join(import.meta.dirname, 'commands/check.ts');
/** An editor writes in several steps; the flows are looked at when it has been quiet for so long. */
const SETTLED_AFTER_MS = 500;

/** The whole check takes seconds of work: in a process of its own, so that no guest waits for it. */
async function checked(directory: string): Promise<{ readonly ok: boolean; readonly printed: string }> {
  try {
    const { stdout } = await promisify(execFile)(process.execPath, [CHECK, directory]);
    return { ok: true, printed: stdout.trim() };
  } catch (error) {
    const { stdout, stderr } = error as { stdout?: string; stderr?: string };
    return { ok: false, printed: `${stdout ?? ''}${stderr ?? ''}`.trim() || String(error) };
  }
}

/** What a check of the files came to, for whoever asks. */
interface FlowsChecked {
  readonly at: Instant;
  readonly ok: boolean;
  /** As the check prints it. */
  readonly lines: readonly string[];
}

/** The latest check of a folder of flows: one that was asked for, or one of edited files. */
export class FlowChecks {
  readonly #directory: string;
  readonly #now: () => Instant;
  #last: FlowsChecked | null = null;
  #running: { readonly since: Instant; readonly result: Promise<FlowsChecked> } | null = null;

  constructor(directory: string, now: () => Instant) {
    this.#directory = directory;
    this.#now = now;
  }

  /** Null when nothing was checked yet. */
  last(): FlowsChecked | null {
    return this.#last;
  }

  /** Since when a check that was asked for runs; null when none does. */
  runningSince(): Instant | null {
    return this.#running?.since ?? null;
  }

  /** Keeps what came of a look at edited flows. */
  note(result: TakenUp): void {
    const printed = result.taken ? 'Edited files were taken up.' : result.reason;
    this.#keep(result.taken, printed);
  }

  /** Begins a check, unless one runs; gives its result to those who wait for it. */
  run(): Promise<FlowsChecked> {
    this.#running ??= {
      since: this.#now(),
      result: checked(this.#directory)
        .then(({ ok, printed }) => this.#keep(ok, printed))
        .finally(() => (this.#running = null)),
    };
    return this.#running.result;
  }

  #keep(ok: boolean, printed: string): FlowsChecked {
    const lines = printed.split('\n').filter((line) => line.trim() !== '');
    this.#last = { at: this.#now(), ok, lines };
    return this.#last;
  }
}

/**
 * Looks at the flows of a folder and hands them over when they pass their checks; else says why not, and the desk goes on
 * with those it has.
 */
export async function takeUpFlows(directory: string, takeUp: (book: FlowBook) => Promise<void>): Promise<TakenUp> {
  try {
    const { book } = loadBook(directory);
    const { ok, printed } = await checked(directory);
    if (!ok) return { taken: false, reason: printed };
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
