import type { DeliveryAnswer, WrittenText } from '../company-log.ts';
import type { Seen } from '../seen.ts';
import type { Broken, Look } from './broken.ts';

const answersTo = (text: WrittenText): readonly DeliveryAnswer[] =>
  text.deliveries.flatMap(({ answer }) => (answer === null ? [] : [answer]));

/** The desk said that it has the text: by a reply of its records, or by an empty one. */
const isAccepted = (answer: DeliveryAnswer): boolean => answer.entryId !== null || answer.reply === null;

function countedBy<T>(rows: readonly T[], key: (row: T) => string | number | null): Map<string | number, number> {
  const counts = new Map<string | number, number>();
  for (const row of rows) {
    const name = key(row);
    if (name !== null) counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return counts;
}

/** Whether someone was told, past the records, to call whoever wrote a text that could not be kept. */
function someoneWasTold(text: WrittenText, handed: readonly { work: number; taken: boolean; body: string }[]): boolean {
  return handed.some(({ work, taken, body }) => work === 0 && taken && body.includes(text.from));
}

/** A guest's text that was answered is in the records once, or, with the safe reply, people were told to call the guest. */
export const textsHaveOneEntry: Look = (log, seen) => {
  const broken: Broken[] = [];
  const entries = countedBy(seen.entries, ({ message_id }) => message_id);
  const messages = new Set(seen.messages.map(({ id }) => id));
  for (const text of log.texts.filter(({ who }) => who === 'guest')) {
    const count = entries.get(text.id) ?? 0;
    const answers = answersTo(text);
    const kept = messages.has(text.id);
    const promised = answers.some(isAccepted) || kept;
    const excused = answers.length > 0 && someoneWasTold(text, log.handed);
    if (count > 1 || (promised && count !== 1) || (!promised && answers.length > 0 && !excused)) {
      broken.push({ guarantee: 'every accepted text has one entry', what: `text ${text.id} has ${count} entries` });
    }
  }
  for (const { id, phone, guest_messages: counted } of seen.conversations) {
    const written = seen.entries.filter((entry) => entry.conversation_id === id && entry.who === 'guest').length;
    if (written !== counted) {
      const what = `conversation ${id} of …${phone.slice(-4)} counts ${counted} texts and has ${written}`;
      broken.push({ guarantee: 'every accepted text has one entry', what });
    }
  }
  return broken;
};

/** Which entries reached their guest: in an answer, or in a text sent later. */
function entriesThatArrived(log: Parameters<Look>[0], seen: Seen): ReadonlySet<number> {
  const arrived = new Set<number>();
  for (const text of log.texts) for (const { entryId } of answersTo(text)) if (entryId !== null) arrived.add(entryId);
  const sentFor = new Map(seen.work.map(({ id, payload }) => [id, payload.entryId ?? null]));
  for (const { work, taken } of log.handed) {
    const entry = sentFor.get(work) ?? null;
    if (taken && entry !== null) arrived.add(entry);
  }
  return arrived;
}

/** Each text has one reply, the same at each delivery, which is the one in the records; and it comes to the guest. */
export const textsHaveOneReply: Look = (log, seen) => {
  const broken: Broken[] = [];
  const say = (what: string): void => void broken.push({ guarantee: 'every accepted text has one reply', what });
  const messages = new Map(seen.messages.map((message) => [message.id, message]));
  const words = new Map(seen.entries.map((entry) => [entry.id, entry.words]));
  const arrived = entriesThatArrived(log, seen);
  for (const text of log.texts) {
    const kept = messages.get(text.id);
    const accepted = answersTo(text).filter(isAccepted);
    if (new Set(accepted.map(({ reply }) => reply)).size > 1) say(`text ${text.id} was answered in different words`);
    for (const { reply, entryId } of accepted) {
      if (entryId === null) continue;
      if (entryId !== kept?.reply_entry_id) say(`text ${text.id} was answered with another entry than the records say`);
      else if (!words.has(entryId)) say(`the reply to text ${text.id} is entry ${entryId}, which does not exist`);
      else if (reply !== kept.reply) say(`text ${text.id} was answered in other words than the records have`);
    }
    const entry = kept?.reply_entry_id ?? null;
    if (text.who !== 'guest' || entry === null || arrived.has(entry)) continue;
    const results = seen.work.flatMap(({ payload, result }) =>
      payload.entryId === entry ? [result ?? 'not done'] : [],
    );
    // Of a phone that the company says cannot be reached, a human is told.
    if (!results.some((result) => result.startsWith('refused'))) {
      say(
        `the reply to text ${text.id} never came to the guest; what was to send it: ${results.join(', ') || 'nothing'}`,
      );
    }
  }
  for (const [entry, count] of countedBy(seen.messages, ({ reply_entry_id }) => reply_entry_id)) {
    if (count > 1) say(`entry ${entry} is the reply to ${count} texts`);
  }
  return broken;
};

/** A guest who waits for each reply is in the records in the order in which they wrote. */
export const textsAreInOrder: Look = (log, seen) => {
  const broken: Broken[] = [];
  const place = new Map(seen.entries.map((entry, index) => [entry.message_id ?? '', index]));
  const latest = new Map<string, number>();
  for (const text of log.texts) {
    const at = place.get(text.id);
    // A text that was not accepted at once comes in later, from the spool.
    if (text.who !== 'guest' || at === undefined || !answersTo(text).some(isAccepted)) continue;
    if (at < (latest.get(text.from) ?? -1)) {
      broken.push({ guarantee: 'the order of each guest is kept', what: `text ${text.id} stands before an older one` });
    }
    latest.set(text.from, Math.max(at, latest.get(text.from) ?? -1));
  }
  return broken;
};
