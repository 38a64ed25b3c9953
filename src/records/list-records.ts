import type { ListRecords, RentalOfList, RoomOutlets, Talk } from '../desk/lists/records.ts';
import type { Stay } from '../desk/property.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import type { OpenRecords } from './open.ts';
import { isSpoken } from './spoken.ts';
import { staysIn, toStay } from './stays.ts';

async function talks({ db }: Handle, from: Instant, until: Instant): Promise<readonly Talk[]> {
  const conversations = await db
    .selectFrom('conversations')
    .select(['id', 'rental_id as rentalId', 'lang', 'opened_at as openedAt', 'ending'])
    .where('opened_at', '>=', from)
    .where('opened_at', '<', until)
    .orderBy('opened_at')
    .orderBy('id')
    .execute();
  const lines = await db
    .selectFrom('conversations')
    .innerJoin('entries', 'entries.conversation_id', 'conversations.id')
    .select([
      'conversations.id',
      'entries.who',
      'entries.at',
      'entries.words',
      'entries.step',
      'entries.missed',
      'entries.message_id',
    ])
    .where('conversations.opened_at', '>=', from)
    .where('conversations.opened_at', '<', until)
    .orderBy('entries.id')
    .execute();
  const byTalk = Map.groupBy(lines, ({ id }) => id);
  return conversations.map((talk) => ({
    ...talk,
    lines: (byTalk.get(talk.id) ?? []).map(({ id: _id, missed, message_id, ...line }) => ({
      ...line,
      missed: missed === 1,
      spoken: isSpoken({ message_id }),
    })),
  }));
}

async function rentals({ db }: Handle, first: string, last: string): Promise<readonly RentalOfList[]> {
  return (
    db
      .selectFrom('rentals')
      .innerJoin('properties', 'properties.id', 'rentals.property_id')
      .innerJoin('units', 'units.id', 'rentals.unit_id')
      .select([
        'rentals.id as rentalId',
        'units.tag',
        'properties.name as property',
        'rentals.room',
        'rentals.room_key as roomKey',
        'properties.zone',
        'rentals.first_day as firstDay',
        'rentals.last_day as lastDay',
      ])
      .where('rentals.last_day', '>=', first)
      .where('rentals.first_day', '<=', last)
      // By an index: in the order of their ids all rentals there ever were would be read.
      .orderBy('rentals.last_day')
      .orderBy('rentals.id')
      .execute()
  );
}

async function staysOn(handle: Handle, day: string): Promise<readonly Stay[]> {
  const rows = await staysIn(handle)
    .where('rentals.first_day', '<=', day)
    .where('rentals.last_day', '>=', day)
    .orderBy('properties.name')
    .orderBy('rentals.room')
    .orderBy('rentals.id')
    .execute();
  return rows.map(toStay);
}

async function outlets({ db }: Handle): Promise<readonly RoomOutlets[]> {
  const rows = await db
    .selectFrom('outlet_notes')
    .innerJoin('properties', 'properties.id', 'outlet_notes.property_id')
    .select(['property_id', 'properties.name', 'room_key', 'room', 'place', 'worked', 'at'])
    .orderBy('properties.name')
    .orderBy('room_key')
    .orderBy('outlet_notes.id')
    .execute();
  return [...Map.groupBy(rows, ({ property_id, room_key }) => `${property_id} ${room_key}`).values()].flatMap((of) => {
    const [first] = of;
    if (first === undefined) return [];
    const notes = of.map(({ place, worked, at }) => ({ place, worked: worked === 1, at }));
    return [{ propertyId: first.property_id, property: first.name, room: first.room, notes }];
  });
}

/** What the owner's lists ask, each at one view of the records. */
export function listRecordsOn(records: OpenRecords): ListRecords {
  return {
    talks: (from, until) => records.viewTables((handle) => talks(handle, from, until)),
    rentals: (first, last) => records.viewTables((handle) => rentals(handle, first, last)),
    staysOn: (day) => records.viewTables((handle) => staysOn(handle, day)),
    outlets: () => records.viewTables(outlets),
  };
}
