import { sql } from 'kysely';
import type { CalloutLine, NightLine, NightPart, NightQuery } from '../pages/records.ts';
import type { Handle } from './engine.ts';

/** What is searched for, as LIKE reads it: its own signs are meant as letters. */
function part(words: string): string {
  return `%${words.toLowerCase().replaceAll(/[\\%_]/g, String.raw`\$&`)}%`;
}

/** Conversations of a time, with the place of each. Always within `opened_at`, which has an index. */
function conversationsIn({ db }: Handle, query: NightQuery) {
  return db
    .selectFrom('conversations')
    .leftJoin('rentals', 'rentals.id', 'conversations.rental_id')
    .leftJoin('units', 'units.id', 'rentals.unit_id')
    .leftJoin('properties', 'properties.id', 'conversations.property_id')
    .select([
      'conversations.id',
      'conversations.phone',
      'conversations.opened_at',
      'conversations.last_guest_at',
      'conversations.ended_at',
      'conversations.ending',
      'conversations.guest_messages',
      'conversations.lang',
      'conversations.room',
      'rentals.guest_name',
      'rentals.room as rental_room',
      'units.tag',
      'properties.name as property',
    ])
    .where('conversations.opened_at', '>=', query.from)
    .where('conversations.opened_at', '<', query.until);
}

/** What was said first in each conversation, and the flows it came through, in order. */
export async function toldOf(
  { db }: Handle,
  ids: readonly number[],
): Promise<ReadonlyMap<number, { readonly firstWords: string; readonly flows: readonly string[] }>> {
  const rows =
    ids.length === 0
      ? []
      : await db
          .selectFrom('entries')
          .select(['conversation_id', 'who', 'step', 'words'])
          .where('conversation_id', 'in', ids)
          .orderBy('id')
          .execute();
  const told = new Map<number, { firstWords: string; flows: string[] }>();
  for (const { conversation_id: id, who, step, words } of rows) {
    const known = told.get(id) ?? { firstWords: '', flows: [] };
    told.set(id, known);
    if (known.firstWords === '' && who === 'guest') known.firstWords = words;
    const flow = step?.includes('.') === true ? step.slice(0, step.indexOf('.')) : null;
    if (flow !== null && !known.flows.includes(flow)) known.flows.push(flow);
  }
  return told;
}

async function calloutsOf({ db }: Handle, ids: readonly number[]): Promise<ReadonlyMap<number, CalloutLine[]>> {
  const rows =
    ids.length === 0
      ? []
      : await db
          .selectFrom('callout_conversations')
          .innerJoin('callouts', 'callouts.id', 'callout_conversations.callout_id')
          .leftJoin('people', 'people.id', 'callouts.taken_by')
          .select([
            'callout_conversations.conversation_id',
            'callouts.id',
            'matter',
            'urgency',
            'status',
            'people.name',
          ])
          .where('callout_conversations.conversation_id', 'in', ids)
          .orderBy('callouts.id')
          .execute();
  const byConversation = new Map<number, CalloutLine[]>();
  for (const { conversation_id: of, name, ...row } of rows) {
    byConversation.set(of, [...(byConversation.get(of) ?? []), { ...row, takenBy: name }]);
  }
  return byConversation;
}

/** Conversations that began in a time and fit the query, newest first, at most so many. */
export async function night(handle: Handle, query: NightQuery): Promise<NightPart> {
  const { propertyId, unitId, flow, ending, words, below } = query;
  let wanted = conversationsIn(handle, query);
  if (propertyId !== null) wanted = wanted.where('conversations.property_id', '=', propertyId);
  if (unitId !== null) wanted = wanted.where('rentals.unit_id', '=', unitId);
  if (ending === 'open') wanted = wanted.where('conversations.ending', 'is', null);
  else if (ending !== null) wanted = wanted.where('conversations.ending', '=', ending);
  if (flow !== null) {
    wanted = wanted.where((is) =>
      is.exists(
        is
          .selectFrom('entries')
          .select('entries.id')
          .whereRef('entries.conversation_id', '=', 'conversations.id')
          .where('entries.step', '>=', `${flow}.`)
          .where('entries.step', '<', `${flow}/`), // "/" comes after "."
      ),
    );
  }
  if (words !== null) {
    wanted = wanted.where((is) =>
      is.exists(
        is
          .selectFrom('entries')
          .select('entries.id')
          .whereRef('entries.conversation_id', '=', 'conversations.id')
          .where(sql<boolean>`lower(entries.words) like ${part(words)} escape ${'\\'}`),
      ),
    );
  }
  if (below !== null) {
    wanted = wanted.where((is) =>
      is.or([
        is('conversations.opened_at', '<', below.at),
        is.and([is('conversations.opened_at', '=', below.at), is('conversations.id', '<', below.id)]),
      ]),
    );
  }
  const rows = await wanted
    .orderBy('conversations.opened_at', 'desc')
    .orderBy('conversations.id', 'desc')
    .limit(query.most + 1)
    .execute();
  const shown = rows.slice(0, query.most);
  const ids = shown.map((row) => row.id);
  const told = await toldOf(handle, ids);
  const callouts = await calloutsOf(handle, ids);
  return {
    more: rows.length > shown.length,
    lines: shown.map((row): NightLine => ({
      id: row.id,
      phone: row.phone,
      openedAt: row.opened_at,
      lastGuestAt: row.last_guest_at,
      endedAt: row.ended_at,
      ending: row.ending,
      guestMessages: row.guest_messages,
      lang: row.lang,
      guestName: row.guest_name,
      property: row.property,
      room: row.rental_room ?? row.room,
      tag: row.tag,
      firstWords: told.get(row.id)?.firstWords ?? '',
      flows: told.get(row.id)?.flows ?? [],
      callouts: callouts.get(row.id) ?? [],
    })),
  };
}
