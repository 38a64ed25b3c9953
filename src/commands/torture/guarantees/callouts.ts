import type { CompanyLog } from '../company-log.ts';
import type { Seen } from '../seen.ts';
import type { Broken, Look } from './broken.ts';

/** A guest who wrote that someone is in danger has a danger callout, once the text is in the records. */
export const dangerHasACallout: Look = (log, seen) => {
  const broken: Broken[] = [];
  const conversationOf = new Map(seen.entries.map((entry) => [entry.message_id ?? '', entry.conversation_id]));
  const danger = new Set(seen.callouts.filter(({ urgency }) => urgency === 'danger').map(({ id }) => id));
  const woken = new Set(
    seen.shares.filter(({ callout_id }) => danger.has(callout_id)).map(({ conversation_id }) => conversation_id),
  );
  for (const { id } of log.texts.filter((text) => text.danger)) {
    const conversation = conversationOf.get(id);
    if (conversation !== undefined && !woken.has(conversation)) {
      broken.push({ guarantee: 'every danger text has a callout', what: `text ${id} woke nobody` });
    }
  }
  return broken;
};

type Callout = Seen['callouts'][number];

/** Rows of work that try someone in a round of a callout. */
function triesOf({ id }: Callout, { work }: Seen): ReadonlySet<number> {
  return new Set(
    work
      .filter(
        ({ payload }) =>
          payload.calloutId === id || (typeof payload.round === 'object' && payload.round.calloutId === id),
      )
      .filter(({ kind }) => kind === 'text' || kind === 'call')
      .map((row) => row.id),
  );
}

const isOver = ({ status }: Callout): boolean => status === 'done' || status === 'taken';

/** Someone was reached for a callout; and while nobody has it, someone will be tried again. */
export const calloutsAreNotLost: Look = (log, seen) => {
  const broken: Broken[] = [];
  const say = (what: string): void => void broken.push({ guarantee: 'no callout is lost', what });
  for (const callout of seen.callouts) {
    const rings = seen.work.some(
      ({ kind, payload, done_at: doneAt }) => kind === 'ring' && payload.calloutId === callout.id && doneAt === null,
    );
    if (!isOver(callout) && !rings) say(`callout ${callout.id} is ${callout.status}, and nobody will be tried again`);
    // What became another callout, or waits for the morning, has tried nobody yet.
    if (callout.status === 'held' || callout.note?.startsWith('became callout')) continue;
    const tries = triesOf(callout, seen);
    if (!log.handed.some(({ work, taken }) => taken && tries.has(work))) {
      say(`callout ${callout.id} (${callout.urgency}) reached nobody`);
    }
  }
  return broken;
};

function toldOf(callout: Callout, log: CompanyLog, seen: Seen, directNumber: string): boolean {
  const phoneOf = new Map(seen.conversations.map(({ id, phone }) => [id, phone]));
  const guests = seen.shares
    .filter(({ callout_id }) => callout_id === callout.id)
    .map(({ conversation_id }) => phoneOf.get(conversation_id));
  return guests.every((phone) =>
    log.handed.some(({ to, taken, body }) => to === phone && taken && body.includes(directNumber)),
  );
}

/** Whom nobody came for in the set time was given the number that reaches a person. */
export function calloutsAreNotSilent(directNumber: string): Look {
  return (log, seen) =>
    seen.callouts
      .filter((callout) => !isOver(callout) && callout.status !== 'held')
      .filter((callout) => !toldOf(callout, log, seen, directNumber))
      .map(({ id, urgency }) => ({
        guarantee: 'no callout is untaken in silence',
        what: `callout ${id} (${urgency}) is untaken, and its guest does not know`,
      }));
}
