import { LANGUAGE_KEY, AGAIN_KEY, PERSON_KEY } from '../../flow/speak.ts';
import { turnOnSilence } from '../../flow/turn.ts';
import type { Instant } from '../../time/instant.ts';
import type { Heard } from '../../words/heard.ts';
import type { CallerTurn, FromCaller, SpokenToCaller } from '../carrier.ts';
import type { IncomingCall, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { heardKeys, heardSpeech, heardWish, isUnsure, saysSomething, yesOrNo } from './hearing.ts';
import { otherLanguage, rememberLanguage } from './language.ts';
import { Line } from './line.ts';
import { greet } from './opening.ts';
import { afterQueue, afterRecording, atConsent } from './person.ts';
import type { Plan } from './prompts.ts';
import { replyToSilence, replyToWords, takeSpeech } from './reply.ts';
import { standsAtDangerQuestions, standsInEmergency, signsOf } from './scene.ts';
import type { Scene } from './scene.ts';
import type { Standing } from './standing.ts';
import { technicianCalls } from './technician-calls.ts';
import { textSteps } from './text-steps.ts';
import { unitNamed } from './unit.ts';
import { standingOf } from './waiting.ts';

/** After so many turns in a row without anything that could be understood, a person is got. */
const MOST_MISSES = 2;

type At<Where extends Standing['at']> = Extract<Standing, { at: Where }>;

/** Answers one turn of a call that goes on. */
export async function answered(
  desk: Surroundings,
  tx: Tx,
  call: IncomingCall,
  { turn, said }: CallerTurn,
  now: Instant,
): Promise<SpokenToCaller> {
  const line = new Line({ desk, tx, call, turn, now });
  const standing = standingOf(call);
  const scene = await line.scene(standing.tag);
  if (standing.at === 'technician') return technicianCalls(line, scene, standing, said);
  if (said.came === 'keys' && listens(standing)) {
    if (said.keys === LANGUAGE_KEY && takesLanguageKey(scene, standing)) return changeLanguage(line, scene, standing);
    if (said.keys === AGAIN_KEY) return line.say(scene.words, planAt(scene, standing), { tag: standing.tag });
  }
  switch (standing.at) {
    case 'arrived':
      return said.came === 'keys' || said.came === 'speech'
        ? atQuestion(line, scene, { ...standing, at: 'question', step: scene.step }, said)
        : greet(line, scene);
    case 'unit':
      return atUnit(line, scene, standing, said);
    case 'question':
      return atQuestion(line, scene, standing, said);
    case 'prompts':
      return atPrompts(line, scene, standing, said);
    case 'sure':
      return atSure(line, scene, standing, said);
    case 'farewell':
      return said.came === 'keys' || said.came === 'speech'
        ? atQuestion(line, scene, { ...standing, at: 'question', step: scene.step }, said)
        : line.hangUp(scene.words, [scene.words.phrase('goodbye')]);
    case 'danger':
      return atDanger(line, scene, standing, said);
    case 'taken':
      return atTaken(line, scene, standing, said);
    case 'waiting':
      return afterQueue(line, scene, standing, said);
    case 'consent':
      return atConsent(line, scene, standing, said);
    case 'recording':
      return afterRecording(line, scene, standing, said);
    case 'over':
      return line.hangUp(scene.words, []);
    default:
      return standing satisfies never;
  }
}

/** Whether a call waits for the caller's words at all. */
function listens({ at }: Standing): boolean {
  return ['unit', 'question', 'prompts', 'sure', 'farewell', 'danger', 'taken'].includes(at);
}

/** Where digits are keyed in, 9 is a digit like others. */
function takesLanguageKey(scene: Scene, standing: Standing): boolean {
  const step = 'step' in standing ? standing.step : scene.step;
  return standing.at === 'unit' || standing.at === 'sure' || !scene.words.takesDigits(step);
}

/** What is said, again or in the other language, where a call stands. */
function planAt(scene: Scene, standing: Standing, lead: readonly string[] = []): Plan {
  const { words } = scene;
  if (standing.at === 'danger') return words.emergency(signsOf(scene.conversation), lead);
  if (standing.at === 'farewell') return words.plan([], { leadsTo: 'farewell' }, scene.step, { lead });
  if (scene.step === null) return words.question(null, lead);
  if (standsInEmergency(scene)) return words.emergency(signsOf(scene.conversation), lead);
  return words.question(scene.step, lead);
}

/** Which unit it is, or what is wrong: no gate before help, so silence leads on. */
async function atUnit(line: Line, scene: Scene, standing: At<'unit'>, said: FromCaller): Promise<SpokenToCaller> {
  const { words } = scene;
  const named = await unitNamed(line, said);
  if (named.named === 'found') {
    const known = await line.scene(named.tag);
    return line.say(known.words, known.words.question(null, [known.words.phrase('unit-found')]), named);
  }
  if (named.named === 'unknown') {
    return line.say(words, words.question(null, [words.phrase('unit-not-found')]));
  }
  if (said.came === 'nothing') return line.say(words, words.question(null));
  return atQuestion(line, scene, { ...standing, at: 'question', step: scene.step }, said);
}

async function changeLanguage(line: Line, scene: Scene, standing: Standing): Promise<SpokenToCaller> {
  const lang = otherLanguage(line.lang);
  await rememberLanguage(line.tx, line.call.phone, scene.rentalId, lang);
  await line.save({ lang });
  const changed = await line.scene(standing.tag);
  const lead = [changed.words.phrase('language-changed')];
  if (standing.at === 'unit') {
    await line.stand({ ...standing, misses: 0 });
    const said = [...lead, changed.words.phrase('which-unit')];
    return line.spoken(changed.words, said, line.listen(changed.words, 'unit', 'question'));
  }
  return line.say(changed.words, planAt(changed, standing, lead), { tag: standing.tag });
}

/** The question again, because nothing that could be understood came; or a person, the second time. */
async function missed(
  line: Line,
  scene: Scene,
  standing: Standing,
  how: { readonly words: string; readonly lead: readonly string[] },
): Promise<SpokenToCaller> {
  const misses = standing.misses + 1;
  if (misses >= MOST_MISSES) return bringPerson(line, scene, how.words, standing.tag);
  return line.say(scene.words, planAt(scene, standing, how.lead), { misses, tag: standing.tag });
}

async function bringPerson(line: Line, scene: Scene, words: string, tag: string | undefined): Promise<SpokenToCaller> {
  return replyToWords(line, { words, hear: () => heardWish(line.lang, 'person', tag) }, [
    scene.words.phrase('silence-brings-a-person'),
  ]);
}

/** Silence where a question stands: time first, then a person; at the danger questions, what silence means there. */
async function silent(
  line: Line,
  scene: Scene,
  standing: At<'question' | 'prompts' | 'sure'>,
): Promise<SpokenToCaller> {
  const { words } = scene;
  if (standsAtDangerQuestions(scene) && scene.conversation !== null) {
    const { conversation } = scene;
    const input = { state: conversation.state, lang: line.lang, facts: words.facts, current: line.desk.flows.book };
    return replyToSilence(line, conversation, turnOnSilence(words.flows, input), words);
  }
  const misses = standing.misses + 1;
  if (misses >= MOST_MISSES) return bringPerson(line, scene, '(silence)', standing.tag);
  await line.stand({ ...standing, misses });
  const keys = standing.at === 'prompts' && standing.byWord ? 'one' : undefined;
  return line.spoken(words, [words.phrase('take-your-time')], line.listen(words, standing.step, 'long', keys));
}

async function atQuestion(
  line: Line,
  scene: Scene,
  standing: At<'question'>,
  said: FromCaller,
): Promise<SpokenToCaller> {
  const { words } = scene;
  if (said.came === 'speech') {
    const unsure = isUnsure(said.confidence);
    const heard = heardAt(line, scene, { words: said.words, unsure, tag: standing.tag });
    // Danger, and a person, wait for no question about what was heard.
    const urgent = heard.danger !== 'none' || heard.move === 'person';
    if (!urgent && scene.step !== standing.step)
      return line.say(words, planAt(scene, standing, [words.phrase('moved-on')]));
    if (!urgent && unsure) return askBack(line, scene, standing, said.words, heard);
    return takeSpeech(line, said.words, { unsure, tag: standing.tag });
  }
  if (said.came === 'keys') {
    if (scene.step !== standing.step && said.keys !== PERSON_KEY)
      return line.say(words, planAt(scene, standing, [words.phrase('moved-on')]));
    return takeKeys(line, scene, standing, said.keys);
  }
  return silent(line, scene, standing);
}

function heardAt(
  line: Line,
  { words, step }: Scene,
  said: { readonly words: string; readonly unsure: boolean; readonly tag: string | undefined },
): Heard {
  const { tag, ...rest } = said;
  const given = { ...rest, lang: line.lang, ...(tag === undefined ? {} : { tag }) };
  return heardSpeech(line.desk, given, { flows: words.flows, step }, line.now);
}

async function takeKeys(line: Line, scene: Scene, standing: Standing, keys: string): Promise<SpokenToCaller> {
  const at = { flows: scene.words.flows, step: scene.step };
  const heard = heardKeys(at, keys, line.lang);
  if (heard === null) {
    return missed(line, scene, standing, { words: `[${keys}]`, lead: [scene.words.phrase('no-such-key')] });
  }
  const { tag } = standing;
  return replyToWords(line, {
    words: `[${keys}] ${scene.words.meaning(scene.step, heard.move ?? heard.answer)}`,
    hear: () => (tag === undefined ? heard : { ...heard, place: { tag } }),
  });
}

/** The recognition was not sure: what it made of the words is asked about; of noise nothing is. */
async function askBack(
  line: Line,
  scene: Scene,
  standing: At<'question'>,
  words: string,
  heard: Heard,
): Promise<SpokenToCaller> {
  if (!saysSomething(heard)) {
    return missed(line, scene, standing, { words: `(unclear: ${words})`, lead: [scene.words.phrase('not-heard')] });
  }
  const misses = standing.misses + 1;
  if (misses >= MOST_MISSES) return bringPerson(line, scene, words, standing.tag);
  await line.stand({ ...standing, at: 'sure', misses, words });
  const asked = scene.words.phrase('i-heard', { words });
  return line.spoken(scene.words, [asked], line.listen(scene.words, standing.step, 'question', 'one'));
}

async function atSure(line: Line, scene: Scene, standing: At<'sure'>, said: FromCaller): Promise<SpokenToCaller> {
  const { words: before, tag } = standing;
  if (said.came === 'keys' && said.keys === '1') return takeSpeech(line, before, { unsure: false, tag });
  if (said.came === 'keys' && said.keys === '2') return line.say(scene.words, planAt(scene, standing), { tag });
  if (said.came === 'keys' && said.keys === PERSON_KEY) return takeKeys(line, scene, standing, said.keys);
  if (said.came === 'speech') {
    const answer = yesOrNo(line.desk, said.words, line.lang);
    if (answer === 'yes' && !isUnsure(said.confidence)) return takeSpeech(line, before, { unsure: false, tag });
    if (answer === 'no' && !isUnsure(said.confidence)) return line.say(scene.words, planAt(scene, standing), { tag });
    return atQuestion(line, scene, { ...standing, at: 'question' }, said);
  }
  if (said.came === 'keys')
    return missed(line, scene, standing, { words: `[${said.keys}]`, lead: [scene.words.phrase('no-such-key')] });
  return silent(line, scene, standing);
}

/** The caller has heard part of what is to be said: it goes on by their word, or by itself, unless they answer before. */
async function atPrompts(line: Line, scene: Scene, standing: At<'prompts'>, said: FromCaller): Promise<SpokenToCaller> {
  const { words } = scene;
  const { left, after, step, byWord } = standing;
  const goOn = (lead: readonly string[] = []): Promise<SpokenToCaller> => {
    const before = lead.length === 0 ? [] : [{ sentences: lead, goesOnBy: 'itself' as const }];
    const prompts = [...before, ...left];
    const misses = byWord ? 0 : standing.misses;
    return line.say(words, { prompts, after, step }, { misses, tag: standing.tag });
  };
  const moved = scene.step !== step && after.leadsTo === 'ask';
  if (moved) return atQuestion(line, scene, { ...standing, at: 'question', step }, said);
  if (said.came !== 'keys' && said.came !== 'speech') return byWord ? silent(line, scene, standing) : goOn();
  const speech = said.came === 'speech' ? said.words : '';
  const key = said.came === 'keys' && byWord ? said.keys : '';
  if (key === '1' || (byWord && words.wishes('next', speech))) return goOn();
  if (words.canText && byWord && (key === '2' || words.wishes('text', speech))) {
    await textSteps(line, scene);
    return goOn([words.phrase('texted')]);
  }
  if (after.leadsTo === 'ask') return atQuestion(line, scene, { ...standing, at: 'question', step }, said);
  // Of what is only told, nothing is an answer; but danger and a wish are heard.
  if (said.came === 'keys') return said.keys === PERSON_KEY ? takeKeys(line, scene, standing, said.keys) : goOn();
  const heard = heardAt(line, scene, { words: speech, unsure: isUnsure(said.confidence), tag: standing.tag });
  if (heard.danger === 'none' && heard.move !== 'person') return goOn();
  return takeSpeech(line, speech, { unsure: isUnsure(said.confidence), tag: standing.tag });
}

/** In the emergency the caller should hang up and dial: silence has it said once more, and then the line is freed. */
async function atDanger(line: Line, scene: Scene, standing: At<'danger'>, said: FromCaller): Promise<SpokenToCaller> {
  const { words } = scene;
  if (said.came === 'speech') {
    return takeSpeech(line, said.words, { unsure: isUnsure(said.confidence), tag: standing.tag });
  }
  if (said.came === 'keys') {
    const heard = heardKeys({ flows: words.flows, step: scene.step }, said.keys, line.lang);
    if (heard !== null) return takeKeys(line, scene, standing, said.keys);
  }
  if (standing.misses > 0) return line.hangUp(words, [words.dangerWords('hang-up')]);
  return line.say(words, words.emergency(signsOf(scene.conversation)), { misses: standing.misses + 1 });
}

async function atTaken(line: Line, scene: Scene, standing: At<'taken'>, said: FromCaller): Promise<SpokenToCaller> {
  if (said.came === 'speech') {
    return takeSpeech(line, said.words, { unsure: isUnsure(said.confidence), tag: undefined });
  }
  if (said.came === 'keys') {
    const after = { leadsTo: 'queue', calloutId: standing.calloutId } as const;
    return line.say(scene.words, scene.words.plan([], after, scene.step));
  }
  return line.hangUp(scene.words, [scene.words.phrase('goodbye')]);
}
