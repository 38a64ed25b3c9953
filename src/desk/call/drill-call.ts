import type { Instant } from '../../time/instant.ts';
import type { CallTurn, Spoken } from '../carrier.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import type { CallAbout } from '../work-kinds.ts';

/** What someone on the list hears in a drill: that it is one, and which key says that they are there. */
export async function drillCall(
  desk: Surroundings,
  tx: Tx,
  { drillId, personId }: CallAbout<'drill'>,
  { turn, digits, machine }: CallTurn,
  now: Instant,
): Promise<Spoken> {
  const words = `This is a test of the night desk of ${desk.outfit.name}. Nobody is in danger.`;
  if (digits === '1') {
    await tx.answerDrill(drillId, personId, now);
    return { lang: 'en', sentences: ['Thank you. The test has you. Good night.'], nextTurn: null };
  }
  if (machine || turn > 1) return { lang: 'en', sentences: [words], nextTurn: null };
  return { lang: 'en', sentences: [words, 'Press 1 to say that you are there.'], nextTurn: turn + 1 };
}
