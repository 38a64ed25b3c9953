import { setTimeout as pause } from 'node:timers/promises';

/** The result of work that is done in time. @throws Error when it is not. */
export async function withinMs<T>(ms: number, work: Promise<T>): Promise<T> {
  const cancel = new AbortController();
  const tooLong = pause(ms, undefined, { signal: cancel.signal, ref: false }).then(() => {
    throw new Error(`the desk did not answer within ${ms} ms; see whether the records are reachable`);
  });
  try {
    return await Promise.race([work, tooLong]);
  } finally {
    cancel.abort();
    tooLong.catch(() => undefined);
  }
}
