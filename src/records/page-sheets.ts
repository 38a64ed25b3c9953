import { z } from 'zod';
import type { CallSheet, Delivery, Expected, SheetCallout } from '../pages/records.ts';
import { after } from '../time/instant.ts';
import { callouts, offersOf } from './callouts.ts';
import { conversation as conversationById, entries } from './conversations.ts';
import type { Handle } from './engine.ts';
import { flowVersion } from './flow-versions.ts';
import { recordingsOf } from './incoming-calls.ts';
import { property as propertyById, stay as stayById } from './stays.ts';
import type { Callout, Entry } from '../desk/records.ts';

/** People's names by id, those who have left too. */
async function namesOf({ db }: Handle): Promise<ReadonlyMap<number, string>> {
  const rows = await db.selectFrom('people').select(['id', 'name']).execute();
  return new Map(rows.map(({ id, name }) => [id, name]));
}

/** A callout with who was tried and who took it. */
export async function sheetCallout(handle: Handle, callout: Callout): Promise<SheetCallout> {
  const names = await namesOf(handle);
  const nameOf = (id: number): string => names.get(id) ?? 'someone who left';
  const { id, matter, urgency, status, brief, openedAt, takenAt, doneAt, note, takenBy } = callout;
  const offers = (await offersOf(handle, id)).map((offer) => ({ ...offer, name: nameOf(offer.personId) }));
  const recordings = (await recordingsOf(handle, id)).map(({ at, lengthS }) => ({ at, lengthS }));
  const by = takenBy === null ? null : nameOf(takenBy);
  return { id, matter, urgency, status, brief, openedAt, takenAt, doneAt, note, offers, recordings, takenBy: by };
}

/** Of the payload of a text, which entry it says. */
const payloadSchema = z.object({ entryId: z.number() });

function entryOf(payload: string): number | null {
  const read = payloadSchema.safeParse(JSON.parse(payload));
  return read.success ? read.data.entryId : null;
}

function deliveryOfWork(row: { done_at: string | null; result: string | null }): Delivery {
  if (row.done_at === null) return 'to be sent';
  return row.result?.startsWith('sent ') === true ? 'sent' : 'not sent';
}

/** What became of the desk's texts: of replies by their entry, of others by the work that sends them. */
/** A reply that was lost is sent anew, and tried for some time. */
const SENT_ANEW_WITHIN = 'PT1H';

async function deliveriesOf(
  { db }: Handle,
  phone: string,
  lines: readonly Entry[],
): Promise<ReadonlyMap<number, Delivery>> {
  const [first, last] = [lines[0], lines.at(-1)];
  if (first === undefined || last === undefined) return new Map();
  const entryIds = lines.map((line) => line.id);
  const wanted = new Set(entryIds);
  const rows = await db
    .selectFrom('work')
    .select(['id', 'kind', 'payload_json', 'done_at', 'result'])
    .where('phone', '=', phone)
    // A text is due when its line is written, or is sent anew soon after: the phone's other years are not looked through.
    .where('due_at', '>=', first.at)
    .where('due_at', '<=', after(last.at, SENT_ANEW_WITHIN))
    .execute();
  const works = rows
    .map((row) => ({ ...row, entryId: entryOf(row.payload_json) }))
    .filter((row) => row.entryId !== null && wanted.has(row.entryId));
  const names = [
    ...entryIds.map((id) => ({ text: `reply-${id}`, entryId: id })),
    ...works.map((row) => ({ text: `work-${row.id}`, entryId: row.entryId ?? 0 })),
  ];
  const states = await db
    .selectFrom('text_states')
    .select(['text', 'state'])
    .where(
      'text',
      'in',
      names.map(({ text }) => text),
    )
    .execute();
  const reported = new Map(states.map(({ text, state }) => [text, state]));
  const deliveries = new Map<number, Delivery>(
    works.map((row): [number, Delivery] => [row.entryId ?? 0, deliveryOfWork(row)]),
  );
  for (const { text, entryId } of names) {
    const state = reported.get(text);
    if (state !== undefined) deliveries.set(entryId, state);
  }
  return deliveries;
}

async function marksOf({ db }: Handle, entryIds: readonly number[]): Promise<ReadonlyMap<number, Expected>> {
  if (entryIds.length === 0) return new Map();
  const rows = await db
    .selectFrom('marks')
    .select(['entry_id', 'expect_json'])
    .where('entry_id', 'in', entryIds)
    .execute();
  return new Map(rows.map((row) => [row.entry_id, JSON.parse(row.expect_json) as Expected]));
}

/** Everything about one conversation; null when there is none with that id. */
export async function callSheet(handle: Handle, id: number): Promise<CallSheet | null> {
  const conversation = await conversationById(handle, id);
  if (conversation === null) return null;
  const stay = conversation.rentalId === null ? null : await stayById(handle, conversation.rentalId);
  const property =
    stay?.property ?? (conversation.propertyId === null ? null : await propertyById(handle, conversation.propertyId));
  const lines = await entries(handle, id);
  const ids = lines.map((entry) => entry.id);
  const shared: SheetCallout[] = [];
  for (const callout of await callouts(handle, id)) shared.push(await sheetCallout(handle, callout));
  return {
    conversation,
    stay,
    property,
    entries: lines,
    callouts: shared,
    deliveries: await deliveriesOf(handle, conversation.phone, lines),
    marks: await marksOf(handle, ids),
    flowDocuments: await flowVersion(handle, conversation.flowHash),
  };
}
