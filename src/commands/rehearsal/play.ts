import type { Conversation } from '../../desk/records.ts';
import type { DemoDesk } from '../demo-desk.ts';
import type { Door } from './doors.ts';
import type { Beat, Script } from './script.ts';

/** What came of a written conversation when it was played. */
export interface Played {
  /** The same beats, with what was really replied and sent. */
  readonly script: Script;
  readonly guestMessages: number;
}

/** A guest takes some seconds between texts. */
const BETWEEN_TEXTS = 'PT10S';

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
  const beats: Beat[] = [];
  for (const [index, beat] of script.beats.entries()) {
    if ('waits' in beat) {
      await demo.pass(beat.waits);
      beats.push({ waits: beat.waits, ...takeSent() });
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
