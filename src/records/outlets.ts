import type { NewOutletNote, OutletNoteOnRecord } from '../desk/records.ts';
import type { Handle } from './engine.ts';
import { yesNo } from './schema.ts';
import { labelKey } from '../reading/label.ts';

/** Keeps a note; a conversation says the same of an outlet once, with its latest time. */
export async function noteOutlet({ db }: Handle, note: NewOutletNote): Promise<void> {
  await db
    .insertInto('outlet_notes')
    .values({
      property_id: note.propertyId,
      room: note.room,
      room_key: labelKey(note.room),
      place: note.place,
      worked: yesNo(note.worked),
      at: note.at,
      conversation_id: note.conversationId,
    })
    .onConflict((conflict) => conflict.columns(['conversation_id', 'place', 'worked']).doUpdateSet({ at: note.at }))
    .execute();
}

/** Takes back what a conversation said of an outlet. */
export async function dropOutletNote(
  { db }: Handle,
  { conversationId, place, worked }: Pick<NewOutletNote, 'conversationId' | 'place' | 'worked'>,
): Promise<boolean> {
  const { numDeletedRows } = await db
    .deleteFrom('outlet_notes')
    .where('conversation_id', '=', conversationId)
    .where('place', '=', place)
    .where('worked', '=', yesNo(worked))
    .executeTakeFirst();
  return numDeletedRows > 0n;
}

/** The notes of a room, oldest first. */
export async function outletNotes(
  { db }: Handle,
  propertyId: number,
  room: string,
): Promise<readonly OutletNoteOnRecord[]> {
  const rows = await db
    .selectFrom('outlet_notes')
    .select(['place', 'worked', 'at'])
    .where('property_id', '=', propertyId)
    .where('room_key', '=', labelKey(room))
    .orderBy('id')
    .execute();
  return rows.map(({ worked, ...note }) => ({ ...note, worked: worked === 1 }));
}
