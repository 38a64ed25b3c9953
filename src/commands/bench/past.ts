import { join } from 'node:path';
import { openRecords } from '../../records/open.ts';
import type { Handle } from '../../records/engine.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { phoneOfGuest } from '../trials/guests.ts';

/** Guests of the past have numbers from here on, so that none of them writes in a bench. */
const FIRST_GUEST = 5_000_000;
const TEXTS_EACH = 5;
const ENTRIES_EACH = 2 * TEXTS_EACH;
/** Conversations whose rows are written by one statement for each table. */
const AT_ONCE = 200;

const GUEST_WORDS = 'moved it to the other wall, just one short beep now';
const DESK_WORDS =
  'It was the outlet. Leave the unit where it is now. The middle of the ball should be at 2, the setting on your order, not above.';
const HEARD = JSON.stringify({
  danger: 'none',
  signs: [],
  topic: null,
  answer: 'short-beep',
  lang: 'en',
  move: null,
  place: {},
  numbers: [],
});
/** About as long as a state of the machine is after some turns. */
const STATE = JSON.stringify({
  status: 'active',
  value: { matter: { power: 'power-is-good' } },
  context: 'x'.repeat(900),
});

async function writeConversations({ db }: Handle, first: number, flowHash: string, now: Instant): Promise<void> {
  const guests = Array.from({ length: AT_ONCE }, (_, index) => first + index);
  const texts = guests.flatMap((guest) => Array.from({ length: TEXTS_EACH }, (_, text) => ({ guest, text })));
  const phone = (guest: number): string => phoneOfGuest(FIRST_GUEST + guest);
  const at = after(now, '-PT48H');
  await db
    .insertInto('guests')
    .values(guests.map((guest) => ({ phone: phone(guest), lang: 'en' as const, opted_out_at: null })))
    .execute();
  await db
    .insertInto('conversations')
    .values(
      guests.map((guest) => ({
        id: guest + 1,
        phone: phone(guest),
        rental_id: null,
        property_id: null,
        room: null,
        lang: 'en' as const,
        flow_hash: flowHash,
        engine: 1,
        state: STATE,
        opened_at: at,
        last_guest_at: at,
        guest_messages: TEXTS_EACH,
        last_reply: DESK_WORDS,
        equal_replies: 1,
        burst_since: null,
        burst_texts: 0,
        place_asked: 0 as const,
        ending: 'settled' as const,
        ended_at: at,
      })),
    )
    .execute();
  await db
    .insertInto('entries')
    .values(
      texts.flatMap(({ guest, text }) => {
        const shared = { conversation_id: guest + 1, at, step: 'power.power-is-good', media_json: '[]' };
        const messageId = `SM-past-${guest}-${text}`;
        return [
          { ...shared, who: 'guest' as const, words: GUEST_WORDS, heard_json: HEARD, message_id: messageId },
          { ...shared, who: 'desk' as const, words: DESK_WORDS, heard_json: 'null', message_id: null },
        ];
      }),
    )
    .execute();
  await db
    .insertInto('messages')
    .values(
      texts.map(({ guest, text }) => ({
        id: `SM-past-${guest}-${text}`,
        phone: phone(guest),
        at,
        reply: DESK_WORDS,
        reply_entry_id: null,
      })),
    )
    .execute();
  await db
    .insertInto('work')
    .values(
      texts.map(({ guest, text }) => ({
        kind: 'reply-watch',
        due_at: at,
        free_at: at,
        not_after: null,
        key: `reply:past-${guest}-${text}`,
        phone: null,
        danger: 0 as const,
        payload_json: JSON.stringify({ to: phone(guest), body: DESK_WORDS, entryId: guest }),
        tries: 0,
        done_at: at,
        result: 'dropped',
        attempted_at: null,
      })),
    )
    .execute();
}

/**
 * Writes a past of so many entries into the records in a folder: settled conversations of two days ago, with their texts,
 * replies and done work.
 */
export async function writePast(folder: string, entries: number, now: Instant): Promise<void> {
  const records = await openRecords({ sqliteFile: join(folder, 'nightbell.sqlite') });
  try {
    await records.transaction((tx) => tx.keepFlowVersion('past', {}, now));
    const conversations = Math.ceil(entries / ENTRIES_EACH);
    for (let first = 0; first < conversations; first += AT_ONCE) {
      await records.onTables((handle) => writeConversations(handle, first, 'past', now));
    }
  } finally {
    await records.close();
  }
}
