import type { Person } from '../../roster/roster.ts';
import type { Urgency } from '../../roster/trying.ts';
import { after, wallClock } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { textsBlocked } from './brief-of.ts';
import { calloutWords, guestsOf, textGuest, tellGuests } from './words.ts';
import { placeOf } from './place-of.ts';
import type { Callout, Tx } from '../records.ts';
import { ringWithout, takerOf, tellOffered } from './ringing.ts';
import type { Surroundings } from '../surroundings.ts';

/** By when a guest is told that they will hear from whoever took their callout. */
const HEAR_WITHIN: Readonly<Record<Urgency, string>> = { danger: 'PT5M', tonight: 'PT20M', morning: 'PT2H' };

/** What came of wanting a callout. */
export type Taking =
  /** It is theirs, now or already. */
  | { readonly taken: true; readonly callout: Callout; readonly already: boolean }
  /** Someone was first; their name where it is known. */
  | { readonly taken: false; readonly by: string | null };

/** An hour as people read it there: "2:15 AM". */
function hourThere(instant: Instant, zone: string, lang: 'en' | 'es'): string {
  const clock = wallClock(instant, zone).toPlainTime();
  return lang === 'es'
    ? clock.toString({ smallestUnit: 'minute' })
    : clock.toLocaleString('en-US', { hour: 'numeric', minute: '2-digit' }).replaceAll('\u202f', ' ');
}

/**
 * Someone takes a callout: the first one has it, nobody is tried any more, the others are told who has it, and the guests
 * are told that someone has it and by when they will hear.
 */
export async function take(
  desk: Surroundings,
  tx: Tx,
  person: Person,
  callout: Callout,
  now: Instant,
): Promise<Taking> {
  if (callout.status === 'taken') {
    if (callout.takenBy === person.id) return { taken: true, callout, already: true };
    return { taken: false, by: (await takerOf(tx, callout))?.name ?? null };
  }
  const taken: Callout = { ...callout, status: 'taken', takenBy: person.id, takenAt: now };
  await tx.saveCallout(taken);
  await tellOffered(tx, taken, `${person.name} has callout ${taken.id}.`, person.id, now);
  const until = after(now, HEAR_WITHIN[taken.urgency]);
  for (const guest of await guestsOf(tx, taken)) {
    const zone = (await placeOf(tx, guest)).property?.zone ?? desk.outfit.zone;
    const said = { name: firstName(person), time: hourThere(until, zone, guest.lang) };
    const words = await calloutWords(desk, tx, guest, 'taken', said);
    await textGuest(tx, guest, words, taken.urgency === 'danger', now);
  }
  return { taken: true, callout: taken, already: false };
}

/** Someone who was offered a callout, or has it, passes it on: the next person is tried at once. */
export async function passOn(
  desk: Surroundings,
  tx: Tx,
  person: Person,
  callout: Callout,
  now: Instant,
): Promise<void> {
  const hadIt = callout.status === 'taken';
  await ringWithout(tx, callout, person, now);
  if (hadIt) await tellGuests(desk, tx, callout, 'passed-on', { name: firstName(person) }, now);
}

/** What the one who took a callout is told: the brief again, and how to close it. */
export function wordsToTaker({ id, brief }: Callout): string {
  return `Callout ${id} is yours. ${brief} DONE ${id} + note closes it.`;
}

export function firstName(person: Person): string {
  return person.name.split(' ')[0] ?? person.name;
}

/** Whether words for the guest would reach them by text. */
export async function canText(tx: Tx, callout: Callout): Promise<boolean> {
  for (const guest of await guestsOf(tx, callout)) if (!(await textsBlocked(tx, guest.phone))) return true;
  return false;
}
