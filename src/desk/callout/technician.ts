import type { Person } from '../../roster/roster.ts';
import type { Instant } from '../../time/instant.ts';
import { readablePhone } from './brief.ts';
import { guestsOf, textGuest } from './words.ts';
import { planAfterVisit } from '../due/after-visit.ts';
import type { Callout, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { canText, firstName, passOn, take, wordsToTaker } from './taking.ts';
import type { Taking } from './taking.ts';
import { probablyMeant } from './technician-command.ts';
import type { CommandWord, TechnicianCommand } from './technician-command.ts';

/** The callouts that a command can be about; the others need another command first. */
function fitting(command: CommandWord, person: Person, offered: readonly Callout[]): readonly Callout[] {
  const theirs = (callout: Callout): boolean => callout.status === 'taken' && callout.takenBy === person.id;
  if (command === 'take') return offered.filter((callout) => callout.status === 'ringing');
  if (command === 'pass') return offered.filter((callout) => callout.status === 'ringing' || theirs(callout));
  return offered.filter(theirs);
}

const WITH_WORDS: Readonly<Record<CommandWord, string>> = {
  take: '',
  pass: '',
  done: ' and what you found',
  tell: ' and words for the guest',
};

const numbersOf = (callouts: readonly Callout[]): string => callouts.map(({ id }) => id).join(', ');

interface Meant {
  readonly callout: Callout;
  readonly words: string;
}

/** Which callout a command means, and its words: the one named, or the only one it can mean. Else what to say. */
function meant(command: TechnicianCommand, person: Person, offered: readonly Callout[]): Meant | string {
  const { number, words } = command;
  const fits = fitting(command.command, person, offered);
  const only = fits.length === 0 ? offered : fits;
  const named = offered.find((callout) => callout.id === number);
  if (named !== undefined) return { callout: named, words };
  const [single, ...more] = only;
  const write = command.command.toUpperCase();
  if (number !== null) {
    // "DONE 2 outlets were dead", "TELL 10 minutes": the number is the first of the words, if it can be nothing else.
    const withWords = command.command === 'done' || command.command === 'tell';
    if (withWords && words !== '' && single !== undefined && more.length === 0) {
      return { callout: single, words: `${number} ${words}` };
    }
    return `You were not offered callout ${number}. Yours: ${numbersOf(offered)}. Reply ${write} ${single?.id}${WITH_WORDS[command.command]}.`;
  }
  if (single !== undefined && more.length === 0) return { callout: single, words };
  return `Which one? Reply ${write} with a number: ${numbersOf(only)}.`;
}

async function done(tx: Tx, callout: Callout, note: string, now: Instant): Promise<string> {
  if (note === '') return `Callout ${callout.id} is still open. Reply DONE ${callout.id} and a word on what you found.`;
  await tx.saveCallout({ ...callout, status: 'done', doneAt: now, note });
  await planAfterVisit(tx, callout, now);
  return `Callout ${callout.id} is closed. Thank you.`;
}

async function tell(tx: Tx, person: Person, callout: Callout, words: string, now: Instant): Promise<string> {
  const guests = await guestsOf(tx, callout);
  const phones = guests.map((guest) => readablePhone(guest.phone)).join(', ');
  if (words === '') return `Tell them what? Reply TELL ${callout.id} and the words.`;
  if (!(await canText(tx, callout))) return `Texts to the guest are blocked. Please call: ${phones}.`;
  for (const guest of guests) {
    await textGuest(tx, guest, `${firstName(person)}: ${words}`, callout.urgency === 'danger', now);
  }
  return `Sent to the guest of callout ${callout.id}.`;
}

/**
 * Carries out a technician's command and says what came of it. `offered` are the open callouts offered to this person: TAKE
 * counts from nobody else.
 */
export async function carryOut(
  desk: Surroundings,
  tx: Tx,
  person: Person,
  command: TechnicianCommand,
  offered: readonly Callout[],
  now: Instant,
): Promise<string> {
  const which = meant(command, person, offered);
  if (typeof which === 'string') return which;
  const { callout, words } = which;
  await tx.addEntry({
    conversationId: callout.conversationId,
    at: now,
    who: person.role,
    words: `${command.command.toUpperCase()} ${words}`.trim(),
    heard: null,
    step: null,
    media: [],
    messageId: null,
  });
  switch (command.command) {
    case 'take':
      return sayTaking(callout, await take(desk, tx, person, callout, now));
    case 'pass':
      if (callout.status === 'taken' && callout.takenBy !== person.id) return `Someone else has callout ${callout.id}.`;
      await passOn(desk, tx, person, callout, now);
      return `Callout ${callout.id} goes on to the next person. If you can take it after all, reply TAKE ${callout.id}.`;
    case 'done':
    case 'tell':
      if (callout.takenBy !== person.id) return `Callout ${callout.id} is not yours. Reply TAKE ${callout.id} first.`;
      return command.command === 'done' ? done(tx, callout, words, now) : tell(tx, person, callout, words, now);
    default:
      return command.command satisfies never;
  }
}

function sayTaking(asked: Callout, taking: Taking): string {
  if (!taking.taken) return `Callout ${asked.id} was taken by ${taking.by ?? 'someone else'} before you.`;
  if (taking.already) return `You have callout ${asked.id}. ${taking.callout.brief}`;
  return wordsToTaker(taking.callout);
}

/** A short answer to words that are no command, from someone with open callouts: what would work. */
export function whatWouldWork(person: Person, text: string, offered: readonly Callout[]): string {
  const theirs = fitting('done', person, offered);
  const ringing = fitting('take', person, offered);
  const word = probablyMeant(text);
  const wanted = word === null ? null : (fitting(word, person, offered)[0] ?? null);
  if (word !== null && wanted !== null) {
    return `Did you mean ${word.toUpperCase()}? Reply ${word.toUpperCase()} ${wanted.id}${WITH_WORDS[word]}.`;
  }
  const ways = [
    ...ringing.slice(0, 2).map(({ id }) => `TAKE ${id} or PASS ${id}`),
    ...theirs
      .slice(0, 2)
      .map(({ id }) => `TELL ${id} and words for the guest, DONE ${id} and what you found, or PASS ${id}`),
  ];
  if (ways.length === 0) return `Someone else has callout ${numbersOf(offered)}. Nothing is needed from you.`;
  return `I did not get that. Reply ${ways.join('; or ')}.`;
}
