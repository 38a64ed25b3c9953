import { NOTHING_HEARD } from '../words/heard.ts';
import type { Heard, Language, Sign, Topic } from '../words/heard.ts';
import { ANSWER_KINDS, SIGNS } from '../words/heard.ts';
import { DANGER_FLOW, RESUME, flowOf } from './book.ts';
import type { StepId } from './book.ts';
import type { Facts } from './facts.ts';
import { rowFor } from './symptom-table.ts';
import type { Kept } from './symptom-table.ts';
import { turn, turnAfterVisit, turnOnSilence } from './turn.ts';
import type { Flows, Turn, TurnInput } from './turn.ts';

/**
 * A walk through every reachable state of the compiled machine, by `turn` itself and nothing else: each answer of the step
 * that stands, each kind of miss and move, each danger, each topic, silence, and the
 * question after a visit. A state is a step together with whatever
 * else decides what comes next, but for the trail, which only "back" looks at.
 */

/** Something a guest may do, as it is heard. */
export interface Move {
  /** In words, for the path that a problem is reported with. */
  readonly said: string;
  readonly heard: Heard | 'silence' | 'visit';
}

export interface Arrival {
  readonly step: StepId | null;
  readonly state: string | null;
  readonly facts: Facts;
  readonly lang: Language;
  /** What was said to come here, oldest first. */
  readonly path: readonly string[];
}

/** A move made from a state, and the turn that came of it. */
export interface Passage {
  readonly from: Arrival;
  readonly move: Move;
  readonly turn: Turn;
}

function heard(lang: Language, part: Partial<Heard>): Heard {
  return { ...NOTHING_HEARD, lang, ...part };
}

/** Numbers on both sides of everything a number is compared with. */
function numbersToTry(facts: Facts): readonly number[] {
  const settings = facts.setting === null ? [] : [facts.setting.fromLpm, facts.setting.toLpm];
  const known = [...settings, ...(facts.maximumFlowRateLpm === null ? [] : [facts.maximumFlowRateLpm])];
  return [...new Set([0, 1, 2, 4, 6, 50, 83, 87, 95, ...known.flatMap((value) => [value, value + 0.5])])];
}

/** Every value of the step's kind, whether the step offers it or not, and "I do not know". */
function answerMoves(flows: Flows, step: StepId, facts: Facts, lang: Language): readonly Move[] {
  const hears = flows.steps.get(step)?.hears;
  if (hears === undefined) return [];
  const kind: { values: readonly string[]; number: boolean } = ANSWER_KINDS[hears];
  const answers: readonly (string | number)[] = [...kind.values, 'unsure', ...(kind.number ? numbersToTry(facts) : [])];
  return answers.map((answer) => ({ said: String(answer), heard: heard(lang, { answer }) }));
}

/** Every sign at the first text; one of them everywhere else, where the reply depends on the sign no more than there. */
function dangerMoves(step: StepId | null, lang: Language): readonly Move[] {
  const signs: readonly Sign[] = step === null ? SIGNS : ['cyanosis'];
  const now = signs.map((sign): Move => ({
    said: `(${sign}, now)`,
    heard: heard(lang, { danger: 'now', signs: [sign] }),
  }));
  return [...now, { said: '(worrying)', heard: heard(lang, { danger: 'ask', signs: ['breathing'] }) }];
}

/** Everything that can be heard at a step. At no step at all (a first text) there is no answer and no silence. */
export function movesAt(flows: Flows, step: StepId | null, facts: Facts, lang: Language): readonly Move[] {
  const asked = step === null ? undefined : flows.steps.get(step)?.hears;
  const beside = asked === undefined ? {} : { answer: 'no-answer' as const };
  const topics = [...flows.topics.keys()].map((topic): Move => ({
    said: `(${topic})`,
    heard: heard(lang, { ...beside, topic: topic as Topic }),
  }));
  // A technician comes only where one was called.
  const called = step !== null && flows.steps.get(step)?.end === 'technician';
  const silent = step !== null && flows.steps.get(step)?.silent !== undefined;
  return [
    ...dangerMoves(step, lang),
    { said: 'a person, please', heard: heard(lang, { ...beside, move: 'person' }) },
    { said: 'back', heard: heard(lang, { ...beside, move: 'back' }) },
    { said: 'again', heard: heard(lang, { ...beside, move: 'again' }) },
    { said: 'I filled the bottle', heard: heard(lang, { ...beside, move: 'refilled' }) },
    { said: 'ok', heard: heard(lang, { ...beside, topic: 'thanks-or-ok' }) },
    { said: 'mumble', heard: heard(lang, { ...beside, topic: 'unclear' }) },
    ...(step === null ? [] : answerMoves(flows, step, facts, lang)),
    ...topics,
    ...(called ? [{ said: '(after the visit)', heard: 'visit' } satisfies Move] : []),
    ...(silent ? [{ said: '(silence)', heard: 'silence' } satisfies Move] : []),
  ];
}

interface Remembered {
  readonly value: unknown;
  readonly historyValue?: unknown;
  readonly context: Readonly<Record<string, unknown>>;
}

/**
 * States that differ only in the trail, or in which of the signs were heard, go on alike; and what danger interrupted
 * matters only where the step can lead back to it.
 */
function sameness(flows: Flows, { step, state }: Turn): string {
  const { value, historyValue, context } = JSON.parse(state) as Remembered;
  const { trail: _trail, signs: _signs, ...rest } = context;
  // Kept answers matter by the row of the table they lead to so far.
  const row = rowFor(flows.book.symptomTable, (rest['kept'] ?? {}) as Kept);
  const alike = { ...rest, kept: row?.because };
  const leadsBack = Object.values(flows.steps.get(step)?.go ?? {}).includes(RESUME);
  return JSON.stringify([
    value,
    leadsBack || flowOf(step) !== DANGER_FLOW ? alike : null,
    leadsBack ? historyValue : null,
  ]);
}

function turnBy(flows: Flows, input: Omit<TurnInput, 'state'>, state: string | null, { heard }: Move): Turn {
  if (heard === 'silence') return turnOnSilence(flows, { ...input, state: state ?? '' });
  if (heard === 'visit') return turnAfterVisit(flows, { ...input, state: state ?? '' });
  return turn(flows, { ...input, state }, heard);
}

/** Every passage of the machine for one set of facts and one language, breadth first, so that paths are shortest. */
export function* walk(flows: Flows, facts: Facts, lang: Language): Generator<Passage> {
  const current = flows.book;
  const seen = new Set<string>();
  const waiting: Arrival[] = [{ step: null, state: null, facts, lang, path: [] }];
  for (let from = waiting.shift(); from !== undefined; from = waiting.shift()) {
    for (const move of movesAt(flows, from.step, facts, lang)) {
      const next = turnBy(flows, { lang, facts, current }, from.state, move);
      yield { from, move, turn: next };
      const key = sameness(flows, next);
      if (seen.has(key)) continue;
      seen.add(key);
      waiting.push({ step: next.step, state: next.state, facts, lang, path: [...from.path, move.said] });
    }
  }
}
