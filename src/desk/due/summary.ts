import { unreviewed } from '../../flow/book.ts';
import { daysLater, instantAt } from '../../time/calendar.ts';
import { msOf } from '../../time/instant.ts';
import type { Callout, NightCount, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { placeOf } from '../callout/place-of.ts';
import { addNotice } from './notice.ts';

/** When the owners hear of what happened, in the outfit's zone; from this time of the day before up to it. */
export const SUMMARY_AT = '08:00';
/** Visits named one by one; more would make a text of many parts. */
const MOST_NAMED = 5;

function minutesToTake({ openedAt, takenAt }: Callout): number | null {
  return takenAt === null ? null : Math.round((msOf(takenAt) - msOf(openedAt)) / 60_000);
}

/** "3 callouts, taken in 1, 4 min, 1 not taken". */
function calloutsInWords(callouts: readonly Callout[]): string {
  if (callouts.length === 0) return 'No callouts.';
  const waits = callouts.map(minutesToTake).filter((wait) => wait !== null);
  const untaken = callouts.length - waits.length;
  const parts = [
    `${callouts.length} callout${callouts.length === 1 ? '' : 's'}`,
    ...(waits.length === 0 ? [] : [`taken in ${waits.join(', ')} min`]),
    ...(untaken === 0 ? [] : [`${untaken} not taken`]),
  ];
  return `${parts.join(', ')}.`;
}

/** The summary of a count, for the owner; `visits` are the places somebody has still to go to. */
export function summaryInWords(
  outfit: string,
  { conversations, callouts }: NightCount,
  visits: readonly string[],
): string {
  const settled = conversations.filter((each) => each.ending === 'settled' || each.ending === 'information').length;
  const dangers = callouts.filter((callout) => callout.urgency === 'danger').length;
  const named = visits.slice(0, MOST_NAMED);
  const more = visits.length - named.length;
  return [
    `${outfit}, last 24 h: ${conversations.length} conversation${conversations.length === 1 ? '' : 's'}, ${settled} settled by the guest.`,
    calloutsInWords(callouts),
    `Danger: ${dangers === 0 ? 'none' : dangers}.`,
    visits.length === 0
      ? 'No visit is open.'
      : `To visit: ${named.join('; ')}${more === 0 ? '' : ` and ${more} more`}.`,
  ].join(' ');
}

async function visitsOf(tx: Tx, callouts: readonly Callout[]): Promise<readonly string[]> {
  const visits: string[] = [];
  for (const callout of callouts.filter((each) => each.status !== 'done')) {
    const conversation = await tx.conversation(callout.conversationId);
    const place = conversation === null ? null : await placeOf(tx, conversation);
    const where = [place?.property?.name, place?.stay?.room ?? conversation?.room].filter(Boolean).join(' ');
    visits.push(`${where === '' ? 'place not known' : where} (${callout.matter})`);
  }
  return visits;
}

/** Tells each owner by text what happened in the 24 hours up to this morning. */
export async function tellOwners(desk: Surroundings, tx: Tx, day: string): Promise<string> {
  const { zone, name } = desk.outfit;
  const count = await tx.countNight(instantAt(daysLater(day, -1), SUMMARY_AT, zone), instantAt(day, SUMMARY_AT, zone));
  const waiting = unreviewed(desk.flows.book);
  const reviewed = waiting.length === 0 ? '' : ` No clinician has reviewed ${waiting.join(' and ')} yet.`;
  const body = summaryInWords(name, count, await visitsOf(tx, count.callouts)) + reviewed;
  return noticeToOwners(desk, tx, body, `summary-text:${day}`);
}

/** A notice to every owner on the roster. */
export async function noticeToOwners(desk: Surroundings, tx: Tx, body: string, key: string): Promise<string> {
  const owners = (await tx.roster()).people.filter((person) => person.role === 'owner');
  for (const { id, phone } of owners) {
    await addNotice(tx, { to: phone, body, zone: desk.outfit.zone, key: `${key}:${id}` }, desk.now());
  }
  return owners.length === 0 ? 'the roster names no owner' : `told ${owners.length}`;
}
