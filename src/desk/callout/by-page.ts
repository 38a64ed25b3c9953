import type { Instant } from '../../time/instant.ts';
import type { CalloutDeed } from '../page-desk.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { carryOut } from './technician.ts';

/** Deeds and texts are claimed in one table, so that neither is done twice. */
const messageOf = (deedId: string): string => `page-${deedId}`;

/**
 * Carries out what a button on a technician's page says, as the text of the same name would be, once. A callout that was
 * closed since, or never offered to this person, is left alone: a page may be hours old.
 */
export async function actByPage(desk: Surroundings, tx: Tx, deed: CalloutDeed, now: Instant): Promise<string> {
  const { people } = await tx.roster();
  const person = people.find((each) => each.id === deed.personId);
  if (person === undefined) return 'You are no longer on the roster. Please call the owner.';
  const claim = await tx.claimMessage({ id: messageOf(deed.id), phone: person.phone, at: now });
  if (!claim.fresh) return claim.reply ?? '';
  const offered = await tx.calloutsOfferedTo(person.id);
  const isOffered = offered.some((callout) => callout.id === deed.calloutId);
  const { command, calloutId: number, words } = deed;
  const said = isOffered
    ? await carryOut(desk, tx, person, { command, number, words: words.trim() }, offered, now)
    : `Callout ${number} is closed.`;
  await tx.settleMessage(messageOf(deed.id), said, null);
  return said;
}

/** What came of a deed, in words; null when there was none of that name. */
export async function saidOfDeed(tx: Tx, deedId: string): Promise<string | null> {
  return (await tx.storedReply(messageOf(deedId)))?.text ?? null;
}
