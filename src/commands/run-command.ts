/** What stops a command, said without a stack: it names what is wrong and what to do. */
export class Refusal extends Error {}

type Said = abstract new (...given: never[]) => Error;

/**
 * Runs a command of the terminal. What its user can mend is printed as a message and ends with status 1; anything else is a
 * fault, thrown on with its stack.
 *
 * @param said errors of other rooms whose messages say what to do
 */
export async function runCommand(
  usage: string,
  said: readonly Said[],
  run: () => Promise<number | void>,
): Promise<void> {
  try {
    const status = await run();
    if (status !== undefined) process.exitCode = status;
  } catch (error) {
    const isUsage = (error as NodeJS.ErrnoException).code?.startsWith('ERR_PARSE_ARGS') === true;
    if (!isUsage && ![Refusal, ...said].some((kind) => error instanceof kind)) throw error;
    const { message } = error as Error;
    console.error(isUsage ? `${message}\n\n${usage}` : message);
    process.exitCode = 1;
  }
}
