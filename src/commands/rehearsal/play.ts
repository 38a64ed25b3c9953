import type { Conversation } from '../../desk/records.ts';
import type { DemoDesk } from '../demo-desk.ts';
import type { Door } from './doors.ts';
import type { FromCaller } from '../../desk/carrier.ts';
import { CallerOnLine } from '../caller-on-line.ts';
import type { Beat, Script } from './script.ts';

/** What came of a written conversation when it was played. */
export interface Played {
  /** The same beats, with what was really replied and sent. */
  readonly script: Script;
  readonly guestMessages: number;
}

/** A guest takes some seconds between texts. */
const BETWEEN_TEXTS = 'PT10S';

type CallBeat = Extract<Beat, { readonly hears: readonly string[] }>;

/** How a call goes on where nothing is asked. */
const GOES_ON = { queue: 'waits', record: 'records', 'hang-up': 'over' } as const;

/** The calls of a script, one after the other. */
class Calls {
  readonly #begin: (from: string, told: (words: string) => void) => CallerOnLine;
  #caller: CallerOnLine | null = null;
  #heard: string[] = [];

  constructor(demo: DemoDesk, door: Door, name: string) {
    let begun = 0;
    this.#begin = (from, told) => {
      begun += 1;
      const callId = `CA${name.replaceAll(/[^a-z0-9]/gi, '')}${begun}`;
      return new CallerOnLine({ line: door.line, callId, from, told, pass: (duration) => demo.pass(duration) });
    };
  }

  async play(beat: CallBeat): Promise<Pick<CallBeat, 'hears' | 'goesOn'>> {
    this.#heard = [];
    if ('calls' in beat) {
      this.#caller = this.#begin(beat.calls, (words) => void this.#heard.push(words));
      await this.#caller.begin();
    } else if ('caller' in beat && beat.caller === 'hangs up') await this.#caller?.hangUp();
    else await this.#caller?.answer(saidIn(beat));
    const stands = this.#caller?.stands.do ?? 'hang-up';
    const goesOn = stands in GOES_ON ? { goesOn: GOES_ON[stands as keyof typeof GOES_ON] } : {};
    return { hears: this.#heard, ...goesOn };
  }
}

function saidIn(beat: Exclude<CallBeat, { calls: string }>): FromCaller {
  // The pound key that ends digits is not among them.
  if ('keys' in beat) return { came: 'keys', keys: beat.keys.length > 1 ? beat.keys.replace(/#$/, '') : beat.keys };
  if ('speech' in beat) return { came: 'speech', words: beat.speech, confidence: beat.confidence };
  return { came: 'nothing' };
}

async function endOf(
  demo: DemoDesk,
  phone: string,
): Promise<{ conversation: Conversation | null; callouts: string[] }> {
  return demo.records.read(async (tx) => {
    const conversation = await tx.latestConversation(phone);
    const callouts = conversation === null ? [] : await tx.callouts(conversation.id);
    return {
      conversation,
      callouts: callouts.map(({ urgency, status, matter }) => `${urgency}, ${status}: ${matter}`),
    };
  });
}

/** Plays a script through a door, with the times it says, and writes down what the desk said instead of what it should. */
export async function play(demo: DemoDesk, door: Door, script: Script, name: string): Promise<Played> {
  const { people } = await demo.records.read((tx) => tx.roster());
  let sent: string[] = [];
  const stop = demo.carrier.onText(({ to, body }) => {
    const person = people.find((each) => each.phone === to);
    sent.push(`${person?.name ?? to}: ${body}`);
  });
  const takeSent = (): { sent?: string[] } => {
    const taken = sent;
    sent = [];
    return taken.length === 0 ? {} : { sent: taken };
  };
  const calls = new Calls(demo, door, name);
  const beats: Beat[] = [];
  for (const [index, beat] of script.beats.entries()) {
    if ('waits' in beat) {
      await demo.pass(beat.waits);
      beats.push({ waits: beat.waits, ...takeSent() });
      continue;
    }
    if ('hears' in beat) {
      const { sent: _, goesOn: __, ...asked } = beat;
      const came = await calls.play(beat);
      await demo.pass(BETWEEN_TEXTS);
      beats.push({ ...asked, ...came, ...takeSent() });
      continue;
    }
    const from = beat.from ?? script.as;
    const reply = await door.say({ id: `SM${name.replaceAll(/[^a-z0-9]/gi, '')}${index}`, from, words: beat.says });
    await demo.pass(BETWEEN_TEXTS);
    beats.push({ says: beat.says, ...(beat.from === undefined ? {} : { from }), reply, ...takeSent() });
  }
  stop();
  const { conversation, callouts } = await endOf(demo, script.as);
  return {
    script: { ...script, beats, ends: conversation?.ending ?? 'open', callouts },
    guestMessages: conversation?.guestMessages ?? 0,
  };
}
