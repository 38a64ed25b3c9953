import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { expect, onTestFinished } from 'vitest';
import { demoToken } from '../../src/carrier/demo-token.ts';
import { signatureOf } from '../../src/carrier/signature.ts';
import { textsIn } from '../../src/carrier/twiml.ts';
import { guestText } from './desk-on-a-port.ts';

/** What `npm start` and its kin run, in a process of its own, as the demo. */
export interface Started {
  /** Where it says that it listens, or that it tells of itself: the first address on its output that fits. */
  readonly address: (fits?: RegExp) => Promise<string>;
  /** Ends it with a signal and gives its exit code; null when the signal itself ended it. */
  readonly end: (signal: NodeJS.Signals) => Promise<number | null>;
}

const PUBLIC_URL = 'https://desk.example.com';

/** @param log where its log goes: the one of the tests, or a descriptor */
export function started(
  role: 'web' | 'work' | null,
  environment: Readonly<Record<string, string>>,
  log: 'inherit' | number = 'inherit',
): Started {
  const program = spawn(process.execPath, ['src/main.mjs', ...(role === null ? [] : [role])], {
    env: { PATH: process.env['PATH'], PORT: '0', PUBLIC_URL, LOG_LEVEL: 'silent', ...environment },
    stdio: ['ignore', 'pipe', log],
  });
  const ended = once(program, 'exit') as Promise<[number | null]>;
  onTestFinished(async () => {
    program.kill('SIGKILL');
    await ended;
  });
  const lines: string[] = [];
  let more = Promise.withResolvers<void>();
  const output = createInterface({ input: program.stdout ?? expect.fail('the program has no output') });
  output.on('line', (line) => {
    lines.push(line);
    more.resolve();
    more = Promise.withResolvers<void>();
  });
  return {
    async address(fits = /http:\/\/localhost:\d+/) {
      for (;;) {
        const next = more.promise;
        const found = lines.map((line) => fits.exec(line)?.[0]).find((address) => address !== undefined);
        if (found !== undefined) return found;
        const gone = await Promise.race([next.then(() => false), ended.then(() => true)]);
        if (gone) expect.fail(`the program ended without saying where it is:\n${lines.join('\n')}`);
      }
    },
    async end(signal) {
      program.kill(signal);
      const [code] = await ended;
      return code;
    },
  };
}

/** Sends one signed text of a guest of the demo to a program, and gives the texts of the reply. */
export async function textTo(
  here: string,
  dataDir: string,
  { body, id, from = '+19705550101' }: { readonly body: string; readonly id: string; readonly from?: string },
): Promise<readonly string[]> {
  const form = guestText(body, { MessageSid: id, From: from });
  const under = { token: demoToken(dataDir) ?? '', publicUrl: PUBLIC_URL };
  const response = await fetch(`${here}/carrier/text`, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signatureOf(under, '/carrier/text', form) },
    body: new URLSearchParams(form),
  });
  return textsIn(await response.text());
}
