import type { Person, Roster, Swap } from '../../roster/roster.ts';
import { whoIsOnCall } from '../../roster/on-call.ts';
import { nightOf, readSwap } from '../../roster/swap-words.ts';
import type { SwapWords } from '../../roster/swap-words.ts';
import type { Instant } from '../../time/instant.ts';
import { daysLater, instantAt, isDay } from '../../time/calendar.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** The one person whom a first or whole name means; null for none, or more than one. */
function named(people: readonly Person[], name: string): Person | null {
  const written = name.trim().toLowerCase();
  const meant = people.filter((person) => {
    const whole = person.name.toLowerCase();
    return whole === written || whole.split(' ')[0] === written;
  });
  return meant.length === 1 ? (meant[0] ?? null) : null;
}

/** Who is tried first, and who next, in the middle of the night of a day. */
function inThatNight(roster: Roster, day: string): string {
  const names = whoIsOnCall(roster, instantAt(day, '23:59', roster.zone)).map((person) => person.name);
  return `The night of ${day}: ${names.join(', then ')}.`;
}

async function swap(
  tx: Tx,
  roster: Roster,
  asking: Person,
  words: SwapWords & { kind: 'swap' },
  now: Instant,
): Promise<string> {
  const day = nightOf(words.night, roster.zone, now);
  const first = words.who === null ? asking : named(roster.people, words.who);
  const other = named(roster.people, words.with);
  const all = roster.people.map((person) => person.name).join(', ');
  if (first === null) return `I know nobody called ${words.who}. There are ${all}.`;
  if (other === null) return `I know nobody called ${words.with}. There are ${all}.`;
  if (first.id === other.id) return `${first.name} cannot swap with themselves. There are ${all}.`;
  if (asking.role !== 'owner' && first.id !== asking.id) return 'Only the owner can swap the nights of others.';
  const changed = await exchange(tx, asking, { day, personId: first.id, withId: other.id }, now);
  return `Swapped. ${changed} To undo it, reply NO SWAP ${day}.`;
}

async function exchange(tx: Tx, asking: Person, agreed: Swap, now: Instant): Promise<string> {
  await tx.addSwap(agreed);
  const roster = await tx.roster();
  const changed = inThatNight(roster, agreed.day);
  for (const person of roster.people) {
    const concerned = person.id === agreed.personId || person.id === agreed.withId;
    if (concerned && person.id !== asking.id) {
      await tell(tx, person, `${asking.name} swapped a night: ${changed}`, now);
    }
  }
  return changed;
}

/** A change that was chosen from lists, by people's numbers, and not written. `withId` null gives everyone their own place. */
export interface ChosenSwap {
  readonly askingId: number;
  readonly day: string;
  readonly personId: number;
  readonly withId: number | null;
}

/** How far ahead a night can be swapped from a list; by text any can. */
export const SWAP_NIGHTS_AHEAD = 56;

/** The same as by text, with the same rights; null when it is done, else why not, in words. */
export async function changeAsChosen(
  desk: Surroundings,
  tx: Tx,
  { askingId, day, personId, withId }: ChosenSwap,
): Promise<string | null> {
  const roster = await tx.roster();
  const tonight = nightOf('tonight', roster.zone, desk.now());
  const last = daysLater(tonight, SWAP_NIGHTS_AHEAD);
  if (!isDay(day) || day < tonight || day > last) {
    return `That night cannot be swapped: allowed are those from ${tonight} to ${last}.`;
  }
  const [asking, first] = [askingId, personId].map((id) => roster.people.find((person) => person.id === id));
  if (asking === undefined || first === undefined) return 'That person is no longer on the roster.';
  if (withId === null) {
    const { done, said } = await undo(tx, roster, asking, day, desk.now());
    return done ? null : said;
  }
  const other = roster.people.find((person) => person.id === withId);
  if (other === undefined) return 'That person is no longer on the roster.';
  if (first.id === other.id) return `${first.name} cannot swap with themselves.`;
  if (asking.role !== 'owner' && first.id !== asking.id) return 'Only the owner can swap the nights of others.';
  if (!isSwapped(roster, { day, personId, withId })) await exchange(tx, asking, { day, personId, withId }, desk.now());
  return null;
}

/** Whether these two have each other's place already: a form that is sent again tells nobody anew. */
function isSwapped(roster: Roster, { day, personId, withId }: Swap): boolean {
  const pair = [personId, withId];
  return roster.swaps.some((swap) => swap.day === day && pair.includes(swap.personId) && pair.includes(swap.withId));
}

async function tell(tx: Tx, person: Person, body: string, now: Instant): Promise<void> {
  await tx.addWork({
    kind: 'text',
    dueAt: now,
    notAfter: null,
    key: null,
    phone: person.phone,
    danger: false,
    payload: { to: person.phone, body, entryId: null },
  });
}

interface Undone {
  readonly done: boolean;
  readonly said: string;
}

async function undo(tx: Tx, roster: Roster, asking: Person, day: string, now: Instant): Promise<Undone> {
  const swaps = roster.swaps.filter((each) => each.day === day);
  const concerned = new Set(swaps.flatMap((each) => [each.personId, each.withId]));
  if (swaps.length === 0) {
    return { done: false, said: `There is no swap in the night of ${day}. ${inThatNight(roster, day)}` };
  }
  if (asking.role !== 'owner' && !concerned.has(asking.id)) {
    return { done: false, said: 'Only the owner can undo the swaps of others.' };
  }
  await tx.dropSwaps(day);
  const changed = inThatNight(await tx.roster(), day);
  for (const person of roster.people) {
    if (concerned.has(person.id) && person.id !== asking.id) {
      await tell(tx, person, `${asking.name} undid a swap: ${changed}`, now);
    }
  }
  return { done: true, said: `Undone. ${changed}` };
}

/**
 * A text from someone on the roster about the roster, carried out and answered in words: SWAP tonight WITH a name, NO SWAP
 * friday, ON CALL. Null for other words. A technician may give away their own nights, the owner anyone's.
 */
export async function changeRoster(
  desk: Surroundings,
  tx: Tx,
  asking: Person,
  text: string,
  now: Instant,
): Promise<string | null> {
  const words = readSwap(text);
  if (words === null) return null;
  const roster = await tx.roster();
  desk.note('the roster was asked about or changed by text', { person: asking.id, what: words.kind });
  switch (words.kind) {
    case 'swap':
      return swap(tx, roster, asking, words, now);
    case 'undo':
      return (await undo(tx, roster, asking, nightOf(words.night, roster.zone, now), now)).said;
    case 'who': {
      const names = whoIsOnCall(roster, now).map((person) => person.name);
      return `On call now: ${names.join(', then ')}. ${inThatNight(roster, nightOf('tonight', roster.zone, now))}`;
    }
    case 'unclear':
      return 'To swap a night, reply SWAP tonight WITH and a name; or SWAP friday WITH, or SWAP 2026-12-24 WITH. To undo it, NO SWAP friday. To see who is on, ON CALL.';
    default:
      return words satisfies never;
  }
}
