import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { text } from 'node:stream/consumers';
import { expect, onTestFinished, test } from 'vitest';

/** What the terminal shows when these lines are typed into it, at ten past two at night. */
async function chat(...lines: readonly string[]): Promise<string> {
  const program = spawn(process.execPath, ['src/commands/chat.ts', '--now', '2026-11-25T02:10:00-07:00']);
  onTestFinished(() => void program.kill('SIGKILL'));
  program.stdin.end(`${lines.join('\n')}\n`);
  const [shown] = await Promise.all([text(program.stdout), once(program, 'exit')]);
  return shown;
}

test('a danger text makes the technician’s phone ring in the terminal, and /press 1 takes the callout', async () => {
  const shown = await chat('my husband has blue lips', '/press 3', '/press 1', '/wait PT5M');
  expect(shown).toMatch(/rings Bram Tiddlecote\s+DANGER: .*Marlstone Lodge, 204/);
  expect(shown).toMatch(/phone Bram Tiddlecote\s+DANGER[^]*Press 1 to take it/);
  expect(shown).toMatch(/phone Bram Tiddlecote\s+Callout 1 is yours/);
  expect(shown).toMatch(/to \(970\) 555-0101\s+Bram has your case now/);
  expect(shown).not.toMatch(/rings Ines/);
});

test('/press without a phone that rings, or with what is no key, says what to do', async () => {
  expect(await chat('/press 1')).toMatch(/No phone rings/);
  expect(await chat('my husband has blue lips', '/press take')).toMatch(/write one key, as \/press 1/);
});
