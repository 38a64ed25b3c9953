import type { Conversation, Tx } from '../records.ts';
import type { Stay } from '../property.ts';
import type { Instant } from '../../time/instant.ts';

/** A place as a guest names it. */
export interface NamedPlace {
  readonly room?: string;
  readonly tag?: string;
}

const folded = (label: string): string =>
  label
    .toLowerCase()
    .replace(/^(room|rm|suite|unit|habitaci[oó]n|apt)\b/, '')
    .replace(/[^a-z0-9]/g, '');

/** Whether two labels mean one room: "Room 214", "rm 214" and "214". */
export function sameRoom(a: string, b: string): boolean {
  return folded(a) === folded(b);
}

/**
 * The one stay that a guest's phone, or the place they name, points to; null when there is none, or more than one. A place
 * beats the phone: lodging staff and shared phones write for several rooms, and the wrong address would be worse than none.
 * A room without a tag, named by someone who stays somewhere, is a room there: every property has its own room 12.
 */
export async function findStay(tx: Tx, phone: string, place: NamedPlace, at: Instant): Promise<Stay | null> {
  const own = await tx.staysOf(phone, at);
  const named = place.tag !== undefined || place.room !== undefined;
  if (!named) return own.length === 1 ? (own[0] ?? null) : null;
  const ownThere = own.filter(
    (stay) =>
      (place.tag === undefined || folded(stay.unit.tag) === folded(place.tag)) &&
      (place.room === undefined || sameRoom(stay.room, place.room)),
  );
  if (ownThere.length === 1) return ownThere[0] ?? null;
  const properties = own.map((stay) => stay.property.id);
  const anywhere = place.tag !== undefined || own.length === 0;
  const there = (await tx.staysAt(place, at)).filter((stay) => anywhere || properties.includes(stay.property.id));
  return there.length === 1 ? (there[0] ?? null) : null;
}

/** The stay of a conversation: the one it knows already, else what the phone or the place says now. */
export async function stayOf(
  tx: Tx,
  known: Pick<Conversation, 'rentalId' | 'room'> | null,
  phone: string,
  place: NamedPlace,
  at: Instant,
): Promise<Stay | null> {
  if (known?.rentalId != null) return tx.stay(known.rentalId);
  // A conversation about a room that no rental names must not fall back to the phone's own stay.
  const asked =
    place.tag === undefined && place.room === undefined && known?.room != null ? { room: known.room } : place;
  return findStay(tx, phone, asked, at);
}
