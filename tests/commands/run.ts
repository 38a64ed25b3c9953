import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { text } from 'node:stream/consumers';
import { onTestFinished } from 'vitest';

export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command as `npm run` does, with its records in a folder of its own. */
export function run(command: string, dataDir: string, ...words: readonly string[]): Promise<Ran> {
  return runSet({ DATA_DIR: dataDir }, command, ...words);
}

/** The same with these settings and no others. */
export async function runSet(
  settings: Readonly<Record<string, string>>,
  command: string,
  ...words: readonly string[]
): Promise<Ran> {
  const program = spawn(process.execPath, [`src/commands/${command}.ts`, ...words], {
    env: { PATH: process.env['PATH'], ...settings },
  });
  onTestFinished(() => void program.kill('SIGKILL'));
  program.stdin.end();
  const [stdout, stderr, [code]] = await Promise.all([
    text(program.stdout),
    text(program.stderr),
    once(program, 'exit') as Promise<[number | null]>,
  ]);
  return { code, stdout, stderr };
}
