import type { CompanyLog, Handed } from '../company-log.ts';
import type { Seen, SeenWork } from '../seen.ts';
import type { Broken, Look } from './broken.ts';

/** Nobody asked for these, so that none is better than two. Danger of whatever kind is better told twice. */
const RATHER_NEVER: ReadonlySet<string> = new Set(['check-back', 'notice']);
const TEXTS: ReadonlySet<string> = new Set(['text', 'check-back', 'notice', 'reply-watch']);

/** What is known of a send may be lost for so long: from the company's taking it to the row that says so. */
const IN_BETWEEN_MS = 3_000;

function takenByWork(log: CompanyLog): Map<number, Handed[]> {
  return Map.groupBy(
    log.handed.filter(({ taken, work }) => taken && work !== 0),
    ({ work }) => work,
  );
}

/** Whether the desk may not have known, or not have been able to write down, that something was taken. */
function inDoubt(log: CompanyLog, { at, told }: Handed): boolean {
  return !told || log.disturbances.some(({ from, to }) => from <= at + IN_BETWEEN_MS && to >= at);
}

/** What was sent twice was in doubt in between; a reminder never is sent again. */
const sendsAreNotDoubled: Look = (log, seen) => {
  const broken: Broken[] = [];
  const rows = new Map(seen.work.map((row) => [row.id, row]));
  for (const [work, taken] of takenByWork(log)) {
    const row = rows.get(work);
    if (taken.length === 1 || row === undefined) continue;
    const never = RATHER_NEVER.has(row.kind) && !row.danger;
    if (never || !taken.slice(0, -1).every((each) => inDoubt(log, each))) {
      broken.push({
        guarantee: 'nobody is told twice',
        what: `work ${work} (${row.kind}) was sent ${taken.length} times`,
      });
    }
  }
  return broken;
};

/** A reply of which the desk knew that it arrived is not sent again. */
const repliesAreNotRepeated: Look = (log, seen) => {
  const broken: Broken[] = [];
  const arrivedAt = new Map<number, number>();
  for (const { about, row, status, takenAt } of log.reports) {
    if (about !== 'reply' || status !== 'delivered' || takenAt === null) continue;
    arrivedAt.set(row, Math.min(takenAt, arrivedAt.get(row) ?? Infinity));
  }
  const taken = takenByWork(log);
  for (const { id, kind, payload } of seen.work) {
    if (kind !== 'reply-watch') continue;
    const known = arrivedAt.get(payload.entryId ?? 0) ?? Infinity;
    const first = taken.get(id)?.[0]?.at ?? -Infinity;
    // It may have been on its way when the report came.
    if (first > known + IN_BETWEEN_MS) {
      broken.push({
        guarantee: 'nobody is told twice',
        what: `reply ${payload.entryId} was sent again after it had arrived`,
      });
    }
  }
  return broken;
};

const roundOf = ({ payload: { round } }: SeenWork): string | null =>
  typeof round === 'object' ? `${round.calloutId}, round ${round.round}` : null;

/** In one round a person is texted once. */
const roundsAreNotDoubled: Look = (_, seen) => {
  const rounds = Map.groupBy(
    seen.work.filter((row) => row.kind === 'text' && roundOf(row) !== null),
    (row) => `callout ${roundOf(row)} to …${row.phone?.slice(-4)}`,
  );
  return [...rounds]
    .filter(([, rows]) => rows.length > 1)
    .map(([round, rows]) => ({ guarantee: 'nobody is told twice', what: `${round}: ${rows.length} texts` }));
};

export const nobodyIsToldTwice: Look = (log, seen) =>
  [sendsAreNotDoubled, repliesAreNotRepeated, roundsAreNotDoubled].flatMap((look) => look(log, seen));

/** What the records say was sent, the company took, in those words; and what it took, the records know of. */
export const sendsAgree: Look = (log, seen) => {
  const broken: Broken[] = [];
  const say = (what: string): void =>
    void broken.push({ guarantee: 'what is sent is in the records, and the other way round', what });
  const byId = new Map(log.handed.map((each) => [each.id, each]));
  const rows = new Map(seen.work.map((row) => [row.id, row]));
  for (const { id, kind, danger, result } of seen.work) {
    const sent = /^(?:sent|placed) (\S+)$/.exec(result ?? '')?.[1];
    if (sent !== undefined && byId.get(sent)?.taken !== true) say(`work ${id} is sent as ${sent}, which nobody took`);
    const mayBeLost = RATHER_NEVER.has(kind) && !danger;
    if (TEXTS.has(kind) && !mayBeLost && result?.startsWith('may have been sent')) {
      say(`work ${id} (${kind}) was given up in doubt`);
    }
  }
  for (const { work, to, body, what } of log.handed) {
    if (work === 0) continue;
    const row = rows.get(work);
    if (row === undefined) say(`work ${work} was handed over and is in no records`);
    else if (what === 'text' && (row.payload.to !== to || row.payload.body !== body)) {
      say(`work ${work} was handed over in other words, or to another phone, than the records have`);
    }
  }
  return broken;
};

/** Until waits have been moved with a clock that was set, what is written then is due before what was written earlier. */
const CLOCK_COUNTS_FOR_MS = 10_000;

const clockWasSet = (log: CompanyLog, from: number, to: number): boolean =>
  log.disturbances.some(
    (each) => each.what.startsWith('clock') && each.to > from - CLOCK_COUNTS_FOR_MS && each.from < to,
  );

/** Texts out of a guest's conversation go out in the order in which they were written. A lost reply is said again later. */
export const sendsAreInOrder: Look = (log, seen) => {
  const broken: Broken[] = [];
  const taken = takenByWork(log);
  const queues = Map.groupBy(
    seen.work.filter(({ kind, payload }) => kind === 'text' && typeof payload.entryId === 'number'),
    ({ phone, danger }) => `${phone} ${danger}`,
  );
  for (const rows of queues.values()) {
    let latest = -Infinity;
    for (const { id } of rows.toSorted((a, b) => (a.payload.entryId ?? 0) - (b.payload.entryId ?? 0))) {
      const first = taken.get(id)?.[0]?.at;
      if (first === undefined) continue;
      if (first < latest && !clockWasSet(log, first, latest)) {
        broken.push({ guarantee: 'the order of each guest is kept', what: `work ${id} was sent before an older text` });
      }
      latest = Math.max(latest, first);
    }
  }
  return broken;
};

/** At the end nothing waits that could have been done. */
export const nothingIsLeft: Look = (_, seen) => leftUndone(seen);

function leftUndone({ work, now }: Seen): readonly Broken[] {
  return work
    .filter(({ done_at: doneAt, free_at: freeAt }) => doneAt === null && freeAt <= now)
    .map(({ id, kind, due_at: dueAt }) => ({
      guarantee: 'nothing due is left undone',
      what: `work ${id} (${kind}) is due since ${dueAt}`,
    }));
}
