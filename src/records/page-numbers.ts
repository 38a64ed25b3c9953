import { sql } from 'kysely';
import type { Counted } from '../pages/records.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import { isSpoken } from './spoken.ts';

type Said = Pick<Counted['conversations'][number], 'flows' | 'deskTexts'>;

/** Per conversation of a time: the flows it came through and what the desk texted. */
async function saidIn({ db }: Handle, from: Instant, until: Instant): Promise<ReadonlyMap<number, Said>> {
  const rows = await db
    .selectFrom('conversations')
    .innerJoin('entries', 'entries.conversation_id', 'conversations.id')
    .select(['conversations.id', 'entries.who', 'entries.step', 'entries.words', 'entries.message_id'])
    .where('conversations.opened_at', '>=', from)
    .where('conversations.opened_at', '<', until)
    .orderBy('conversations.opened_at')
    .orderBy('entries.id')
    .execute();
  const said = new Map<number, { flows: string[]; deskTexts: string[] }>();
  for (const { id, who, step, words, message_id } of rows) {
    const known = said.get(id) ?? { flows: [], deskTexts: [] };
    said.set(id, known);
    const flow = step?.includes('.') === true ? step.slice(0, step.indexOf('.')) : null;
    if (flow !== null && !known.flows.includes(flow)) known.flows.push(flow);
    if (isSpoken({ message_id })) continue;
    // A step without a dot is a note about a callout: nobody was texted it.
    if (who === 'desk' && (step === null || flow !== null) && !words.startsWith('outlet ')) known.deskTexts.push(words);
  }
  return said;
}

/** Conversations, callouts and lost texts of a time, oldest first. */
export async function counted(handle: Handle, from: Instant, until: Instant): Promise<Counted> {
  const { db } = handle;
  const conversations = await db
    .selectFrom('conversations')
    .leftJoin('rentals', 'rentals.id', 'conversations.rental_id')
    .leftJoin('units', 'units.id', 'rentals.unit_id')
    .leftJoin('properties', 'properties.id', 'conversations.property_id')
    .select([
      'conversations.id',
      'conversations.opened_at',
      'conversations.ending',
      'conversations.guest_messages',
      'properties.name as property',
      'units.tag',
    ])
    .where('conversations.opened_at', '>=', from)
    .where('conversations.opened_at', '<', until)
    .orderBy('conversations.opened_at')
    .execute();
  const said = await saidIn(handle, from, until);
  const callouts = await db
    .selectFrom('callouts')
    .select(['opened_at as openedAt', 'urgency', 'taken_at as takenAt'])
    .where('opened_at', '>=', from)
    .where('opened_at', '<', until)
    .orderBy('opened_at')
    .execute();
  const lost = await db
    .selectFrom('text_states')
    .select('at')
    // Written out, not bound: only so does the partial index of lost texts apply.
    .where(sql<boolean>`state = 'lost'`)
    .where('at', '>=', from)
    .where('at', '<', until)
    .execute();
  return {
    conversations: conversations.map((row) => ({
      id: row.id,
      openedAt: row.opened_at,
      ending: row.ending,
      guestMessages: row.guest_messages,
      property: row.property,
      tag: row.tag,
      ...(said.get(row.id) ?? { flows: [], deskTexts: [] }),
    })),
    callouts,
    lost: lost.map(({ at }) => at),
  };
}
