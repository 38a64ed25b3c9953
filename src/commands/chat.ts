import { randomUUID } from 'node:crypto';
import { createInterface } from 'node:readline';
import { nationalForm } from '../carrier/phone.ts';
import { loadBook } from '../flow/load.ts';
import { instantOfMs, wallClock } from '../time/instant.ts';
import { loadHearing } from '../words/load.ts';
import { CHAT_USAGE, chatPhone, readChatArguments } from './chat-arguments.ts';
import { ChatCaller } from './chat-caller.ts';
import { ChatCalls } from './chat-calls.ts';
import { openDemoDesk } from './demo-desk.ts';
import type { DemoDesk } from './demo-desk.ts';

/** `npm run chat`: a guest's phone in the terminal, beside what the technicians' phones receive. */

const DESK_NUMBER = '+19705550100';
/** A guest takes some seconds for a text; in piped input nothing else would move the clock. */
const BETWEEN_TEXTS = 'PT10S';

function show(demo: DemoDesk, who: string, words: string): void {
  const time = wallClock(demo.now(), 'America/Denver').toPlainTime().toString({ smallestUnit: 'minute' });
  const [first = '', ...rest] = words.split('\n');
  console.log(`${time}  ${who.padEnd(22)} ${first}`);
  for (const line of rest) console.log(`${' '.repeat(30)}${line}`);
}

async function chat(): Promise<void> {
  const read = readChatArguments(process.argv.slice(2));
  if (read === 'help') {
    console.log(CHAT_USAGE);
    return;
  }
  const interactive = process.stdin.isTTY;
  const startsAt = read.now ?? instantOfMs(Date.now());
  const demo = await openDemoDesk({ hear: loadHearing(), book: loadBook().book, startsAt });
  let phone = read.phone;
  const { lang } = read;
  if (lang !== null) {
    await demo.records.transaction(async (tx) => tx.savePhone({ ...(await tx.lockPhone(phone)), lang }));
  }
  const { people } = await demo.records.read((tx) => tx.roster());
  const nameOf = (to: string): string => people.find((each) => each.phone === to)?.name ?? nationalForm(to);
  demo.carrier.onText(({ to, body }) => show(demo, `to ${nameOf(to)}`, body));
  let caller: ChatCaller | null = null;
  const calls = new ChatCalls(demo, async () => (await caller?.isPutThrough()) ?? false);
  demo.carrier.onCall((call) => {
    calls.rings(call);
    show(demo, `rings ${nameOf(call.to)}`, call.opening);
  });
  if (interactive) console.log(`${CHAT_USAGE}\n\nYou are ${nationalForm(phone)}. Say what is wrong.`);

  async function inCall(call: ChatCaller, command: string, line: string): Promise<void> {
    if (command === '/hangup') return call.hangUp();
    show(demo, nationalForm(phone), line);
    const waited = call.waits;
    await call.say(command === '/silence' ? '' : line.trim());
    if (waited && call.waits) await calls.giveUp();
    await demo.doDue();
  }

  async function carryOut(line: string): Promise<'quit' | 'go on'> {
    const [command = '', ...rest] = line.trim().split(/\s+/);
    const argument = rest.join(' ');
    if (command === '/quit') return 'quit';
    if (command === '/wait') await demo.pass(argument === '' ? 'PT1M' : argument);
    else if (command === '/press') {
      const said = await calls.press(argument);
      show(demo, `phone ${nameOf(said.to)}`, said.sentences.join('\n'));
      await demo.doDue();
    } else if (command === '/as') {
      phone = chatPhone(argument);
      show(demo, '', `You write from ${nationalForm(phone)} now.`);
    } else if (command === '/call') {
      caller = new ChatCaller(demo, phone, (words) => show(demo, 'says', words));
      show(demo, nationalForm(phone), '(calls)');
      await caller.begin();
    } else if (caller !== null && !caller.isOver) await inCall(caller, command, line);
    else {
      show(demo, nationalForm(phone), line);
      const reply = await demo.desk.receive({ id: randomUUID(), from: phone, to: DESK_NUMBER, text: line, media: [] });
      show(demo, 'Nightbell', reply.text ?? '(no reply)');
      if (!interactive) await demo.pass(BETWEEN_TEXTS);
      else await demo.doDue();
    }
    return 'go on';
  }

  // What the desk does by itself (callouts that ring on, a question repeated) must not wait for the next line typed.
  let busy: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(act: () => Promise<T>): Promise<T> => {
    const result = busy.then(act);
    busy = result.catch(() => {});
    return result;
  };
  const ticking = interactive ? setInterval(() => void inTurn(() => demo.pass('PT1S')), 1_000) : null;

  const typed = createInterface({
    input: process.stdin,
    output: interactive ? process.stdout : undefined,
    prompt: '> ',
  });
  if (interactive) typed.prompt();
  try {
    for await (const line of typed) {
      if (line.trim() === '') continue;
      try {
        if ((await inTurn(() => carryOut(line))) === 'quit') break;
      } catch (error) {
        if (!line.startsWith('/')) throw error;
        console.log(error instanceof Error ? error.message : String(error));
      }
      if (interactive) typed.prompt();
    }
  } finally {
    if (ticking !== null) clearInterval(ticking);
    await busy;
    await demo.close();
  }
}

try {
  await chat();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
