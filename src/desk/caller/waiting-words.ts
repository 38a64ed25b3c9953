import type { Instant } from '../../time/instant.ts';
import type { SpokenToCaller } from '../carrier.ts';
import type { IncomingCall, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { sceneOf } from './scene.ts';
import { nobodyLeft, ringedInVain, rungNow, rungTooLong, standingOf } from './waiting.ts';

/** Seconds of quiet between two words to someone who waits. */
const PAUSE_S = 10;
/** Something is said to someone who waits every so many pauses, unless there is news. */
const SAID_EVERY = 2;
/** About ten minutes: nobody is kept longer on a line that nobody answers. */
const MOST_PAUSES = 60;

const LEAVE: SpokenToCaller = { sentences: [], after: { do: 'leave-queue' } };

/** Where a call that was to be placed has come to nothing without a report, the next one is rung. */
async function ringOn(tx: Tx, call: IncomingCall, now: Instant): Promise<IncomingCall> {
  const standing = standingOf(call);
  const late = standing.at === 'waiting' ? rungTooLong(standing, now) : null;
  if (late === null) return call;
  await ringedInVain(tx, call.callId, late, now);
  return (await tx.incomingCall(call.callId)) ?? call;
}

/** What a caller hears who waits for a person: whom the desk is ringing, now and then; and that they go on, when nobody came. */
export async function waitingWords(
  desk: Surroundings,
  tx: Tx,
  come: IncomingCall,
  { turn, count }: { readonly turn: number; readonly count: number },
  now: Instant,
): Promise<SpokenToCaller> {
  const call = await ringOn(tx, come, now);
  const standing = standingOf(call);
  if (call.endedAt !== null || standing.at !== 'waiting') return LEAVE;
  if (nobodyLeft(standing) || count >= MOST_PAUSES) return LEAVE;
  const { words } = await sceneOf(desk, tx, call, { lang: call.lang, tag: standing.tag }, now);
  const person = await rungNow(tx, standing);
  const news = person === null ? null : words.phrase('ringing-name', { name: person.name });
  const rung = standing.heardOf === person?.id;
  const said =
    news !== null && !rung ? [news] : count > 0 && count % SAID_EVERY === 0 ? [words.phrase('still-ringing')] : [];
  if (news !== null && !rung) {
    await tx.saveIncomingCall({ ...call, standing: JSON.stringify({ ...standing, heardOf: person?.id }) });
  }
  return {
    sentences: said.map((sentence) => words.sentence(sentence)),
    after: { do: 'wait', turn, count: count + 1, pauseS: PAUSE_S },
  };
}
