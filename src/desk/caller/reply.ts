import { DANGER_FLOW, flowOf } from '../../flow/book.ts';
import { forPhone } from '../../flow/for-phone.ts';
import { aloud } from '../../flow/aloud.ts';
import { isAsked } from '../../flow/speak.ts';
import { sentencesOf, speakable } from '../../flow/speakable.ts';
import type { Turn } from '../../flow/turn.ts';
import type { Heard } from '../../words/heard.ts';
import type { SpokenToCaller } from '../carrier.ts';
import { calloutWords, textGuest } from '../callout/words.ts';
import { placeOf } from '../callout/place-of.ts';
import { carryOutOrders } from '../guest/orders.ts';
import { takeWords } from '../guest/take-words.ts';
import type { HeardAt } from '../guest/take-words.ts';
import type { Conversation } from '../records.ts';
import { silenceKey } from '../work-kinds.ts';
import { heardSpeech } from './hearing.ts';
import type { Line } from './line.ts';
import type { CallWords, Plan } from './prompts.ts';
import { signsOf } from './scene.ts';
import { turnId } from './turn-id.ts';

/** Words of the caller, and how they are heard. */
interface CallersWords {
  /** As they stand in the entry. */
  readonly words: string;
  readonly hear: (at: HeardAt) => Heard;
}

/** Takes what a caller said and says what comes of it: the flows move by it as by a text. */
export async function replyToWords(
  line: Line,
  said: CallersWords,
  lead: readonly string[] = [],
): Promise<SpokenToCaller> {
  const { desk, tx, call, now } = line;
  const words = {
    from: call.phone,
    words: said.words,
    media: [],
    messageId: turnId(call.callId, line.turn),
    hear: said.hear,
    lang: line.lang,
    write: null,
  };
  const taken = await takeWords(desk, tx, words, await tx.lockPhone(call.phone), now);
  // A text of STOP is no matter of a call.
  if (taken.did === 'stayed-silent' || taken.did === 'slowed')
    throw new Error('a call was taken for a text that wants no reply');
  await line.save({ conversationId: taken.conversation.id });
  const scene = await line.scene();
  if (taken.did === 'passed-on') {
    const passed = await calloutWords(desk, tx, taken.conversation, 'goes-to-taker', { name: taken.to.taker.name });
    const sentences = sentencesOf(aloud(speakable(passed, line.lang)));
    const after = { leadsTo: 'queue', calloutId: taken.to.callout.id } as const;
    return line.say(scene.words, scene.words.plan(sentences, after, scene.step));
  }
  const { moved, conversation } = taken;
  await textEmergency(line, conversation, moved.turn, scene.words);
  const found = moved.foundNow && !moved.turn.inDanger ? [scene.words.phrase('unit-found')] : [];
  const anew = moved.before !== null && moved.step === null ? [scene.words.around('started-anew')] : [];
  const { turn, heard, asksOutlet } = moved;
  const made = { conversation, turn, heard, lead: [...lead, ...anew, ...found], asksOutlet };
  return line.say(scene.words, await planOf(line, scene.words, made));
}

/** Words that were said in a call, taken as they are. */
export async function takeSpeech(
  line: Line,
  words: string,
  { unsure, tag }: { readonly unsure: boolean; readonly tag: string | undefined },
): Promise<SpokenToCaller> {
  const given = { words, unsure, lang: line.lang, ...(tag === undefined ? {} : { tag }) };
  return replyToWords(line, { words, hear: (at) => heardSpeech(line.desk, given, at, line.now) });
}

/** Silence at the danger questions moves the flows: perhaps nobody can answer. */
export async function replyToSilence(
  line: Line,
  before: Conversation,
  turn: Turn,
  words: CallWords,
): Promise<SpokenToCaller> {
  const { desk, tx, now } = line;
  const conversation: Conversation = {
    ...before,
    state: turn.state,
    lastGuestAt: now,
    guestMessages: before.guestMessages + 1,
    ending: turn.ending,
    endedAt: turn.ending === null ? null : now,
  };
  await tx.saveConversation(conversation);
  await tx.dropWork(silenceKey(conversation.id), now);
  const place = await placeOf(tx, conversation);
  await carryOutOrders(tx, { desk, flows: words.flows, conversation, place, turn }, now);
  await textEmergency(line, conversation, turn, words);
  return line.say(words, await planOf(line, words, { conversation, turn, heard: null, lead: [], asksOutlet: false }));
}

/** The words of an emergency go to the phone as a text too: the address to read out, and what to do. */
async function textEmergency(line: Line, conversation: Conversation, turn: Turn, words: CallWords): Promise<void> {
  if (!words.canText || !turn.said.some((said) => said.line === 'emergency')) return;
  await textGuest(line.tx, conversation, forPhone(turn.lines.join('\n'), line.lang), true, line.now);
}

/** A turn of the flows that is to be said. */
interface Made {
  readonly conversation: Conversation;
  readonly turn: Turn;
  /** What was heard; null where silence moved the flows. */
  readonly heard: Heard | null;
  /** Said before the turn's own words. */
  readonly lead: readonly string[];
  /** Which outlet it was is asked too; an answer helps the next guest. */
  readonly asksOutlet: boolean;
}

/** What is said to a turn of the flows, and what comes after it. */
async function planOf(line: Line, words: CallWords, made: Made): Promise<Plan> {
  const { conversation, turn, lead } = made;
  const step = words.step(turn.step);
  const sentences = words.sentencesOf(turn);
  if (flowOf(turn.step) === DANGER_FLOW && step?.hears === 'called') {
    const says = turn.said.some((said) => said.line === 'emergency') || sentences.length === 0;
    return says ? words.emergency(signsOf(conversation), lead) : afterEmergency(line, words, made);
  }
  const callout = await calloutOf(line, conversation, turn);
  if (callout !== null) return words.plan(sentences, { leadsTo: 'queue', calloutId: callout }, turn.step, { lead });
  if (isAsked(step)) {
    const ends = [words.offer(turn.step)];
    return words.plan(sentences, { leadsTo: 'ask', step: turn.step }, turn.step, { lead, ends });
  }
  const outlet = made.asksOutlet ? sentencesOf(words.around('outlet-question')) : [];
  return words.plan([...sentences, ...outlet], { leadsTo: 'farewell' }, turn.step, { lead });
}

/** The caller is held only when someone else has called, or nobody can; else the line is freed for that call. */
async function afterEmergency(line: Line, words: CallWords, { conversation, turn, heard, lead }: Made): Promise<Plan> {
  const sentences = words.sentencesOf(turn);
  const open = (await line.tx.openCallouts(conversation.id)).find((each) => each.urgency === 'danger');
  const holds = heard?.answer === 'yes' || heard?.answer === 'cannot';
  if (holds && open !== undefined) {
    const said = sentences.filter((sentence) => !sentence.endsWith('?'));
    return words.plan(said, { leadsTo: 'queue', calloutId: open.id }, turn.step, { lead });
  }
  if (heard?.answer === 'no') {
    return words.plan([...sentences, words.dangerWords('hang-up')], { leadsTo: 'hang-up' }, turn.step, { lead });
  }
  return words.plan(sentences, { leadsTo: 'danger' }, turn.step, { lead, ends: [words.offer(turn.step)] });
}

/** The callout that a turn asked for and that people are rung about now; null for the morning's, and where none was. */
async function calloutOf({ tx }: Line, conversation: Conversation, turn: Turn): Promise<number | null> {
  const wants = turn.orders.some((order) => order.order === 'callout' && order.urgency !== 'morning');
  if (!wants) return null;
  const open = await tx.openCallouts(conversation.id);
  return open.find((callout) => callout.urgency !== 'morning' && callout.status !== 'done')?.id ?? null;
}
