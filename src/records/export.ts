import type { Span, ToldConversation } from '../desk/keeping/export.ts';
import type { Instant } from '../time/instant.ts';
import { callouts } from './callouts.ts';
import { conversation as conversationById, entries } from './conversations.ts';
import type { Handle } from './engine.ts';
import type { OpenRecords } from './open.ts';
import { property as propertyById, stay as stayById } from './stays.ts';

/** Conversations read at one view; a night has fewer, a year does not fit in memory. */
const AT_ONCE = 100;

async function toldConversation(
  handle: Handle,
  id: number,
  names: ReadonlyMap<number, string>,
): Promise<ToldConversation | null> {
  const conversation = await conversationById(handle, id);
  if (conversation === null) return null;
  const stay = conversation.rentalId === null ? null : await stayById(handle, conversation.rentalId);
  const property =
    stay?.property ?? (conversation.propertyId === null ? null : await propertyById(handle, conversation.propertyId));
  return {
    conversation,
    guest: stay?.guestName ?? null,
    property: property?.name ?? null,
    room: stay?.room ?? conversation.room,
    unit: stay?.unit.tag ?? null,
    entries: await entries(handle, id),
    callouts: (await callouts(handle, id)).map((callout) => ({
      ...callout,
      takenByName: callout.takenBy === null ? null : (names.get(callout.takenBy) ?? null),
    })),
  };
}

/** Conversations that were opened in the span, oldest first, read in small parts while the desk goes on. */
export async function* conversationsIn(records: OpenRecords, { from, until }: Span): AsyncGenerator<ToldConversation> {
  let last: { readonly at: Instant; readonly id: number } = { at: from, id: 0 };
  for (;;) {
    const after = last;
    const part = await records.viewTables(async (handle) => {
      const rows = await handle.db
        .selectFrom('conversations')
        .select(['id', 'opened_at'])
        .where('opened_at', '<', until)
        .where('opened_at', '>=', after.at)
        .where((row) => row.or([row('opened_at', '>', after.at), row('id', '>', after.id)]))
        .orderBy('opened_at')
        .orderBy('id')
        .limit(AT_ONCE)
        .execute();
      const people = await handle.db.selectFrom('people').select(['id', 'name']).execute();
      const names = new Map(people.map(({ id, name }) => [id, name]));
      const told: ToldConversation[] = [];
      for (const { id } of rows) {
        const one = await toldConversation(handle, id, names);
        if (one !== null) told.push(one);
      }
      return { told, last: rows.at(-1) };
    });
    yield* part.told;
    if (part.last === undefined) return;
    last = { at: part.last.opened_at, id: part.last.id };
  }
}
