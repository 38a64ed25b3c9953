import type { Instant } from '../../time/instant.ts';
import { LONGEST_PROMPT_S, secondsToSay } from '../../flow/speech-time.ts';
import { noteAttempt } from '../callout/attempts.ts';
import { spokenBriefOf } from '../callout/brief-of.ts';
import type { CallTurn, Spoken } from '../carrier.ts';
import type { Callout, Tx } from '../records.ts';
import { addTextTo, hastenNextRound, takerOf } from '../callout/ringing.ts';
import type { Surroundings } from '../surroundings.ts';
import { queueOf } from '../caller/waiting.ts';
import { passOn, take, wordsToTaker } from '../callout/taking.ts';
import { guestsOf } from '../callout/words.ts';
import type { CallAbout } from '../work-kinds.ts';

const MENU = 'Press 1 to take it, 2 to pass it on, 3 for the details.';
const MENU_ON_THE_LINE =
  'The guest is on the line. Press 1 to take it and talk with them, 2 to pass it on, 3 for the details.';
const DETAILS_KEY = '3';
/** After so many turns without a key nobody seems to be listening. */
const MOST_SILENT_TURNS = 2;

const ending = (...sentences: readonly string[]): Spoken => ({ lang: 'en', sentences, nextTurn: null });

/** What it is about, as short as a voice should be without a break; or, by a key, all that helps to go there. */
async function brief(
  desk: Surroundings,
  tx: Tx,
  callout: Callout,
  { turn, digits }: Pick<CallTurn, 'turn' | 'digits'>,
): Promise<Spoken> {
  const opening = turn === 0 ? [`This is the night desk of ${desk.outfit.name}.`] : [];
  const menu = (await tx.callWaitingFor(callout.id)) === null ? MENU : MENU_ON_THE_LINE;
  const around = secondsToSay([...opening, menu].join(' '), 'en');
  const { atOnce, details } = await spokenBriefOf(tx, callout, await guestsOf(tx, callout), LONGEST_PROMPT_S - around);
  const words = digits === DETAILS_KEY && details !== '' ? details : atOnce;
  const recordings = (await tx.recordingsOf(callout.id)).map(({ address }) => address);
  const spoken: Spoken = { lang: 'en', sentences: [...opening, words, menu], nextTurn: turn + 1 };
  return recordings.length === 0 ? spoken : { ...spoken, plays: recordings };
}

/** The words after a key 1: to the caller who waits, and only then to the next turn; or, where nobody waits, good night. */
async function taken(tx: Tx, callout: Callout, turn: number): Promise<Spoken> {
  const waiting = await tx.callWaitingFor(callout.id);
  if (waiting === null) {
    return ending(`Callout ${callout.id} is yours. The details are in a text to this phone. Thank you.`);
  }
  const sentences = [`Callout ${callout.id} is yours. I am putting you through to the guest.`];
  return { lang: 'en', sentences, nextTurn: turn + 1, joins: queueOf(waiting) };
}

function afterTalking(callout: Callout, reached: boolean): Spoken {
  const said = reached ? 'You have talked with the guest.' : 'The guest has hung up. Their number is in your text.';
  return ending(
    `${said} Callout ${callout.id} is yours: reply DONE ${callout.id} and a note when it is closed. Thank you.`,
  );
}

/** What a technician hears who is called about a callout: the brief, then what came of the key they pressed. */
export async function calloutCall(
  desk: Surroundings,
  tx: Tx,
  call: CallAbout<'callout'>,
  { turn, digits, machine, putThrough }: CallTurn,
  now: Instant,
): Promise<Spoken> {
  const callout = await tx.callout(call.calloutId);
  const person = (await tx.roster()).people.find((each) => each.id === call.personId);
  if (callout === null || callout.status === 'done' || person === undefined) {
    return ending('This callout is closed. Nothing is needed from you. Good night.');
  }
  if (machine) {
    await noteAttempt(tx, callout, `${person.name}: an answering machine`, now);
    // Whoever is rung for a caller on the line is followed by the next one when this call has ended.
    if (call.forCaller === undefined) await hastenNextRound(tx, call, now);
    return ending();
  }
  if (putThrough !== undefined) return afterTalking(callout, putThrough);
  const taker = await takerOf(tx, callout);
  if (taker !== null && taker.id !== person.id) {
    return ending(`${taker.name} has callout ${callout.id}. Nothing is needed from you. Good night.`);
  }
  if (digits === '1') {
    await take(desk, tx, person, callout, now);
    await noteAttempt(tx, callout, `${person.name} took it by voice`, now);
    await addTextTo(tx, person, wordsToTaker(callout), callout, now);
    return taken(tx, callout, turn);
  }
  if (digits === '2') {
    await noteAttempt(tx, callout, `${person.name} passed it on by voice`, now);
    await passOn(desk, tx, person, callout, now);
    return ending('I am trying the next person. Thank you. Good night.');
  }
  if (digits === null && turn > MOST_SILENT_TURNS) {
    if (call.forCaller === undefined) await hastenNextRound(tx, call, now);
    return ending('I heard no key, so I am trying the next person. You can still reply to my text.');
  }
  return brief(desk, tx, callout, { turn, digits });
}
