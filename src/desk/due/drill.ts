import type { Person } from '../../roster/roster.ts';
import { after, msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Inbound, Reply } from '../carrier.ts';
import type { Drill, Tx } from '../records.ts';

/** How long an answer still counts for the drill it follows. */
export const DRILL_LASTS = 'PT1H';

const ANSWER = /^\s*["'“]?(here|ok(ay)?|yes|ready)\b/i;

/**
 * Tries everyone on the list at once, whoever is on call, with a text and a call that say they are a test. They go the way
 * danger goes, since that is what is tested.
 */
export async function beginDrill(tx: Tx, outfit: string, now: Instant): Promise<Drill> {
  const { people } = await tx.roster();
  const drill = await tx.beginDrill(
    people.map((person) => person.id),
    now,
  );
  const body = `TEST of the night desk of ${outfit}: nothing is wrong. Reply HERE, so that we know it reaches you.`;
  const urgent = { dueAt: now, notAfter: after(now, DRILL_LASTS), danger: true };
  for (const { id: personId, phone } of people) {
    const key = `drill:${drill.id}:${personId}`;
    const text = { to: phone, body, entryId: null };
    await tx.addWork({ ...urgent, kind: 'text', key: `${key}:text`, phone, payload: text });
    const call = { about: 'drill', phone, drillId: drill.id, personId };
    await tx.addWork({ ...urgent, kind: 'call', key: `${key}:call`, phone: null, payload: call });
  }
  return drill;
}

/** An answer to a drill that is on; null when these are other words, or nobody waits for an answer of this phone. */
export async function answerDrill(tx: Tx, inbound: Inbound, now: Instant): Promise<Reply | null> {
  if (!ANSWER.test(inbound.text)) return null;
  const person = await tx.personByPhone(inbound.from);
  if (person === null) return null;
  const drill = await tx.latestDrill();
  if (drill === null || now > after(drill.begunAt, DRILL_LASTS)) return null;
  if (!(await tx.answerDrill(drill.id, person.id, now))) return null;
  return { text: 'Thank you, the test reached you. Nothing else to do.', entryId: null };
}

/** What a drill shows, a line a person: who answered how fast, and who did not. */
export function drillInWords(drill: Drill, people: readonly Person[]): readonly string[] {
  return drill.calls.map(({ personId, answeredAt }) => {
    const name = people.find((person) => person.id === personId)?.name ?? 'someone no longer on the list';
    if (answeredAt === null) return `${name.padEnd(24)} no answer`;
    return `${name.padEnd(24)} answered after ${Math.round((msOf(answeredAt) - msOf(drill.begunAt)) / 1000)} s`;
  });
}
