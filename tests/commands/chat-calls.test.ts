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
  const shown = await chat('my husband has blue lips', '/press', '/press 3', '/press 1', '/wait PT5M');
  expect(shown).toMatch(/rings Bram Tiddlecote\s+DANGER: .*Marlstone Lodge, 204/);
  expect(shown).toMatch(
    /phone Bram Tiddlecote\s+This is the night desk[^]*DANGER: blue[^]*Press 1 to take it, 2 .*, 3 for the details/,
  );
  expect(shown).toMatch(/phone Bram Tiddlecote\s+Said: my husband has blue lips/);
  expect(shown).toMatch(/phone Bram Tiddlecote\s+Callout 1 is yours/);
  expect(shown).toMatch(/to \(970\) 555-0101\s+Bram has your case now/);
  expect(shown).not.toMatch(/rings Ines/);
});

test('/press without a phone that rings, or with what is no key, says what to do', async () => {
  expect(await chat('/press 1')).toMatch(/No phone rings/);
  expect(await chat('my husband has blue lips', '/press take')).toMatch(/write one key, as \/press 1/);
});

test('/call rings the desk: what is typed is said or pressed, and who picks up is put through', async () => {
  const shown = await chat(
    '/call',
    'the unit does not start, no sound at all',
    '1',
    '/silence',
    '0',
    '/silence',
    '/press 1',
  );
  expect(shown).toMatch(/says\s+This is the night desk of Quillmere Basin Oxygen\. If someone is in danger/);
  expect(shown).toMatch(/says\s+What do you hear\?/);
  expect(shown).toMatch(/rings Bram Tiddlecote\s+Tonight: no power/);
  expect(shown).toMatch(/says\s+I am ringing Bram Tiddlecote now/);
  expect(shown).toMatch(/\(you are put through and talk\)/);
  expect(shown).toMatch(
    /phone Ines Quarrow\s+Callout 1 is yours\. I am putting you through[^]*You have talked with the guest/,
  );
  expect(shown).toMatch(/\(the call is over\)/);
});

test('a call in the terminal that is hung up goes on by text', async () => {
  const shown = await chat('/call', 'the unit does not start, no sound at all', '1', '/hangup', 'one short beep');
  expect(shown).toMatch(/to \(970\) 555-0101\s+We were cut off on the phone/);
  expect(shown).toMatch(/Nightbell\s+Good: one short beep means it has power/);
});
