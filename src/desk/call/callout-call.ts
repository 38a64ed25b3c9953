import type { Instant } from '../../time/instant.ts';
import { noteAttempt } from '../callout/attempts.ts';
import type { CallTurn, Spoken } from '../carrier.ts';
import type { Callout, Tx } from '../records.ts';
import { addTextTo, hastenNextRound, takerOf } from '../callout/ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { passOn, take, wordsToTaker } from '../callout/taking.ts';
import type { CallAbout } from '../work-kinds.ts';

const MENU = 'Press 1 to take it, 2 to pass it on, 3 to hear it again.';
/** After so many turns without a key nobody seems to be listening. */
const MOST_SILENT_TURNS = 2;

const ending = (...sentences: readonly string[]): Spoken => ({ lang: 'en', sentences, nextTurn: null });

function brief(desk: Surroundings, callout: Callout, turn: number): Spoken {
  const opening = turn === 0 ? [`This is the night desk of ${desk.outfit.name}.`] : [];
  return { lang: 'en', sentences: [...opening, callout.brief, MENU], nextTurn: turn + 1 };
}

/** What a technician hears who is called about a callout: the brief, then what came of the key they pressed. */
export async function calloutCall(
  desk: Surroundings,
  tx: Tx,
  call: CallAbout<'callout'>,
  { turn, digits, machine }: CallTurn,
  now: Instant,
): Promise<Spoken> {
  const callout = await tx.callout(call.calloutId);
  const person = (await tx.roster()).people.find((each) => each.id === call.personId);
  if (callout === null || callout.status === 'done' || person === undefined) {
    return ending('This callout is closed. Nothing is needed from you. Good night.');
  }
  if (machine) {
    await noteAttempt(tx, callout, `${person.name}: an answering machine`, now);
    await hastenNextRound(tx, call, now);
    return ending();
  }
  const taker = await takerOf(tx, callout);
  if (taker !== null && taker.id !== person.id) {
    return ending(`${taker.name} has callout ${callout.id}. Nothing is needed from you. Good night.`);
  }
  if (digits === '1') {
    await take(desk, tx, person, callout, now);
    await noteAttempt(tx, callout, `${person.name} took it by voice`, now);
    await addTextTo(tx, person, wordsToTaker(callout), callout, now);
    return ending(`Callout ${callout.id} is yours. The details are in a text to this phone. Thank you.`);
  }
  if (digits === '2') {
    await noteAttempt(tx, callout, `${person.name} passed it on by voice`, now);
    await passOn(desk, tx, person, callout, now);
    return ending('I am trying the next person. Thank you. Good night.');
  }
  if (digits === null && turn > MOST_SILENT_TURNS) {
    await hastenNextRound(tx, call, now);
    return ending('I heard no key, so I am trying the next person. You can still reply to my text.');
  }
  return brief(desk, callout, turn);
}
