import { readFileSync } from 'node:fs';
import type { Handle } from '../../src/records/engine.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { loadScenario } from '../../src/records/scenario.ts';
import { after } from '../../src/time/instant.ts';
import { GUEST, NIGHT, take, workFor } from './a-night.ts';

const SCENARIO = 'fixtures/demo/scenario.yaml';

/** What comes back changed, or in another order, where anything is taken for something that it is not. */
export const ODD_WORDS = [
  'z',
  'Z',
  'á',
  '',
  '12',
  '\uFB00',
  '\uFFFD',
  '😮‍💨 no air',
  '"quoted" \\u0000 \\n {}',
  'two\r\nlines\tand \u0001',
  '\u200Fmeasured',
  'long '.repeat(20_000),
];

async function fillTheRest({ db }: Handle, calloutId: number, conversationId: number, entryId: number): Promise<void> {
  const until = after(NIGHT, 'PT24H');
  await db.insertInto('holidays').values({ day: '2026-11-26', name: 'A day of thanks' }).execute();
  await db
    .insertInto('holiday_shifts')
    .values({ day: '2026-11-26', person_id: 1, from_time: '18:00', to_time: '08:00', position: 1 })
    .execute();
  await db
    .insertInto('rooms')
    .values({ property_id: 1, room: 'Cabin 4', room_key: 'cabin4', phone: null, way_in: 'by the creek' })
    .execute();
  // Of numbers with a point: what has none in its binary form, and the shortest and longest that are written exactly.
  for (const [index, tubing_m] of [0.1 + 0.2, 1 / 3, 2, 5e-324, 1.797e308].entries()) {
    await db
      .insertInto('model_sheets')
      .values({
        name: `Sheet ${index}`,
        maximum_flow_rate_lpm: 5.5,
        rated_elevation_m: null,
        power_draw_w: null,
        tubing_m,
      })
      .execute();
  }
  await db.insertInto('drills').values({ begun_at: NIGHT }).execute();
  await db.insertInto('drill_calls').values({ drill_id: 1, person_id: 1, answered_at: null }).execute();
  await db
    .insertInto('incoming_calls')
    .values({
      call_id: 'CA1',
      phone: GUEST,
      lang: 'es',
      conversation_id: conversationId,
      waits_for: calloutId,
      standing_json: '{"at":"arrived","misses":0}',
      opened_at: NIGHT,
      ended_at: null,
    })
    .execute();
  await db
    .insertInto('recordings')
    .values({ callout_id: calloutId, conversation_id: conversationId, address: 'RE1', length_s: 7, at: NIGHT })
    .execute();
  await db
    .insertInto('callout_links')
    .values({ token: 'T', callout_id: calloutId, person_id: 1, ends_at: until, revoked_at: null })
    .execute();
  await db
    .insertInto('outlet_notes')
    .values({
      property_id: 1,
      room_key: 'cabin4',
      room: 'Cabin 4',
      place: 'window',
      worked: 1,
      at: NIGHT,
      conversation_id: conversationId,
    })
    .execute();
  await db.insertInto('marks').values({ entry_id: entryId, person_id: 1, at: NIGHT, expect_json: '{}' }).execute();
  await db.insertInto('text_states').values({ text: 'reply-1', state: 'lost', rank: 2, at: NIGHT }).execute();
  await db.insertInto('signs_of_life').values({ id: 1, at: NIGHT }).execute();
  await db.insertInto('set_backs').values({ id: 1, number: 1, from_at: NIGHT, to_at: NIGHT }).execute();
  await db
    .insertInto('keeping_notes')
    .values({ at: NIGHT, done_by: 'odalys', what: 'import', details_json: '{"rentals":3}' })
    .execute();
  await db.insertInto('page_secret').values({ id: 1, secret: 'sealed with this' }).execute();
  await db.insertInto('passwords').values({ person_id: 1, hash: 'scrypt', set_at: NIGHT }).execute();
  await db.insertInto('sessions').values({ token_hash: 'h', person_id: 1, begun_at: NIGHT, ends_at: until }).execute();
  await db.insertInto('password_links').values({ token_hash: 'l', person_id: 1, ends_at: until }).execute();
  // Without a key of its own, and the same twice.
  for (const account of ['9705550192', '9705550192', '9705550190']) {
    await db.insertInto('sign_in_tries').values({ account, at: NIGHT }).execute();
  }
}

/** Writes a past in which every table has rows, and some have hundreds. The highest swap is taken back again. */
export async function fillEveryTable(records: OpenRecords): Promise<void> {
  await loadScenario(records, { name: SCENARIO, text: readFileSync(SCENARIO, 'utf8') }, NIGHT);
  const { conversationId, calloutId } = await records.transaction(async (tx) => {
    for (const [index, words] of ODD_WORDS.entries())
      await take(tx, `SM${words.slice(0, 40)}`, `+1970555${1000 + index}`, words);
    for (let text = 0; text < 230; text += 1) await take(tx, `SM-${text}`, GUEST, `words ${text}`);
    for (let row = 0; row < 3; row += 1) await tx.addWork(workFor(GUEST, 'quiet', after(NIGHT, 'PT4H')));
    const conversation = await tx.latestConversation(GUEST);
    const { callout } = await tx.openCallout({
      key: 'tonight:unit-1',
      conversationId: conversation?.id ?? 0,
      matter: 'no power',
      urgency: 'tonight',
      status: 'ringing',
      brief: 'Tonight: no power.',
      openedAt: NIGHT,
    });
    await tx.joinCallout({ calloutId: callout.id, conversationId: callout.conversationId, at: NIGHT });
    await tx.offerCallout({ calloutId: callout.id, personId: 1, at: NIGHT, by: 'call' });
    for (const day of ['2026-11-25', '2026-11-26']) await tx.addSwap({ day, personId: 1, withId: 2 });
    await tx.dropSwaps('2026-11-26');
    return { conversationId: callout.conversationId, calloutId: callout.id };
  });
  const [entry] = await records.read((tx) => tx.entries(conversationId));
  await records.onTables((handle) => fillTheRest(handle, calloutId, conversationId, entry?.id ?? 0));
}
