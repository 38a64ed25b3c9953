import type { Person } from '../roster/on-call.ts';
import type { Instant } from '../time/instant.ts';
import { tellOffered } from './callouts.ts';
import type { Callout, Tx } from './records.ts';

/** What a technician can say to the desk by text. */
export type TechnicianCommand =
  | { readonly command: 'take'; readonly calloutId: number | null }
  | { readonly command: 'done'; readonly calloutId: number | null; readonly note: string };

const COMMAND = /^\s*(take|done)\b[\s:#-]*(\d+)?[\s:.,-]*(.*)$/is;

/** TAKE or DONE, with the callout's number where there are several, and a note behind DONE. Null for other words. */
export function readCommand(text: string): TechnicianCommand | null {
  const match = COMMAND.exec(text);
  if (match === null) return null;
  const calloutId = match[2] === undefined ? null : Number(match[2]);
  if (match[1]?.toLowerCase() === 'take') return { command: 'take', calloutId };
  return { command: 'done', calloutId, note: (match[3] ?? '').trim() };
}

async function take(tx: Tx, person: Person, callout: Callout, guestPhone: string, now: Instant): Promise<string> {
  if (callout.status === 'taken') {
    if (callout.takenBy === person.id) return `You have callout ${callout.id}. ${callout.brief}`;
    const { people } = await tx.roster();
    const taker = people.find((each) => each.id === callout.takenBy);
    return `Callout ${callout.id} was taken by ${taker?.name ?? 'someone else'} before you.`;
  }
  const taken: Callout = { ...callout, status: 'taken', takenBy: person.id, takenAt: now };
  await tx.saveCallout(taken);
  await tellOffered(tx, taken, `${person.name} has callout ${callout.id}.`, person.id, now);
  await tellGuest(tx, taken, person, guestPhone, now);
  return `Callout ${callout.id} is yours. ${callout.brief} Reply DONE ${callout.id} and what you found when it is over.`;
}

/** The guest learns that a human has it, in the guest's language. */
async function tellGuest(tx: Tx, callout: Callout, person: Person, guestPhone: string, now: Instant): Promise<void> {
  const conversation = await tx.conversation(callout.conversationId);
  const name = person.name.split(' ')[0] ?? person.name;
  const body =
    conversation?.lang === 'es'
      ? `${name} ya tiene su caso y se comunicará con usted.`
      : `${name} has your case now and will be in touch with you.`;
  const entry = await tx.addEntry({
    conversationId: callout.conversationId,
    at: now,
    who: 'desk',
    words: body,
    heard: null,
    step: null,
    media: [],
    messageId: null,
  });
  await tx.addWork({
    kind: 'text',
    dueAt: now,
    notAfter: null,
    key: null,
    phone: guestPhone,
    danger: callout.urgency === 'danger',
    payload: { to: guestPhone, body, entryId: entry.id },
  });
}

/** Which of the callouts offered to someone a command means: the one named, or the only one it can mean. */
function meant(command: TechnicianCommand, offered: readonly Callout[]): Callout | string {
  if (command.calloutId !== null) {
    const named = offered.find((callout) => callout.id === command.calloutId);
    return (
      named ?? `You were not offered callout ${command.calloutId}. Yours: ${offered.map((each) => each.id).join(', ')}.`
    );
  }
  const wanted = command.command === 'take' ? 'ringing' : 'taken';
  const fitting = offered.filter((callout) => callout.status === wanted);
  const only = fitting.length === 0 ? offered : fitting;
  if (only.length === 1 && only[0] !== undefined) return only[0];
  return `Which one? Reply ${command.command.toUpperCase()} with a number: ${only.map((each) => each.id).join(', ')}.`;
}

/**
 * Carries out a technician's command and says what came of it. `offered` are the open callouts offered to this person: TAKE
 * counts from nobody else.
 */
export async function carryOut(
  tx: Tx,
  person: Person,
  command: TechnicianCommand,
  offered: readonly Callout[],
  now: Instant,
): Promise<string> {
  const callout = meant(command, offered);
  if (typeof callout === 'string') return callout;
  const conversation = await tx.conversation(callout.conversationId);
  const guestPhone = conversation?.phone ?? '';
  await tx.addEntry({
    conversationId: callout.conversationId,
    at: now,
    who: person.role,
    words: command.command === 'take' ? 'TAKE' : `DONE ${command.note}`.trim(),
    heard: null,
    step: null,
    media: [],
    messageId: null,
  });
  if (command.command === 'take') return take(tx, person, callout, guestPhone, now);
  if (callout.takenBy !== person.id) return `Callout ${callout.id} is not yours yet. Reply TAKE ${callout.id} first.`;
  await tx.saveCallout({ ...callout, status: 'done', doneAt: now, note: command.note === '' ? null : command.note });
  return `Callout ${callout.id} is closed. Thank you.`;
}
