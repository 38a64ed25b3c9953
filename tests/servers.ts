/** Real servers that some suites need: without them those suites are left out, which the last lines of a run say. */

/** What an error says of a server that cannot be had. */
export function whyNot(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'no answer';
}

/**
 * The reason for leaving suites out, or null. Where the run is to be relied on (`CI` is set), there is no leaving out.
 * @throws Error in CI, when there is a reason
 */
export function orFailInCi(reason: string | null): string | null {
  if (reason !== null && process.env['CI'] !== undefined && process.env['CI'] !== '') {
    throw new Error(`${reason}. With CI set nothing may be left out.`);
  }
  return reason;
}

/** What stands behind a suite's title: why it is left out, if it is. The last lines of the run are made of it. */
export function unlessLeftOut(reason: string | null): string {
  return reason === null ? '' : `: left out, ${reason}`;
}
