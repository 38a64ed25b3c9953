import { flowOf, DANGER_FLOW } from '../book.ts';
import type { Turn, Flows } from '../turn.ts';
import { findingAt } from './finding.ts';
import type { PassageRule } from './finding.ts';

function firstSentence(line: string): string {
  return line.split(/(?<=[.!?])\s/)[0] ?? '';
}

/** The emergency reply with its callout, in this one turn. */
function isEmergency(turn: Turn, emergencyNumber: string): boolean {
  const callout = turn.orders.some((order) => order.order === 'callout' && order.urgency === 'danger');
  return turn.inDanger && callout && firstSentence(turn.lines[0] ?? '').includes(emergencyNumber);
}

/** A step that takes nothing but a clear no for an answer: the danger questions. */
function isStrict(flows: Flows, step: string | null): boolean {
  const body = step === null ? undefined : flows.steps.get(step);
  return body?.otherwise !== undefined;
}

/** `now` leads, in one reply, to the emergency reply, with the number in its first sentence, and a callout. */
export const nowIsAnEmergency: PassageRule = (passage) => {
  const { move, turn, from } = passage;
  if (typeof move.heard === 'string' || move.heard.danger !== 'now') return [];
  if (isEmergency(turn, from.facts.emergencyNumber)) return [];
  const message = 'danger must lead, in one reply, to the emergency number in the first sentence and to a callout';
  return [findingAt('danger now', passage, message)];
};

/** `ask` leads, in one reply, to the danger questions or to the emergency. */
export const askIsAsked: PassageRule = (passage, flows) => {
  const { move, turn, from } = passage;
  if (typeof move.heard === 'string' || move.heard.danger !== 'ask') return [];
  if (isStrict(flows, turn.step) || isEmergency(turn, from.facts.emergencyNumber)) return [];
  return [findingAt('danger ask', passage, 'a worrying text must lead, in one reply, to the danger questions')];
};

/** At the danger questions everything but a clear no, silence that goes on among it, is an emergency. */
export const onlyNoIsNo: PassageRule = (passage, flows) => {
  const { move, turn, from } = passage;
  if (!isStrict(flows, from.step)) return [];
  const clearNo = typeof move.heard !== 'string' && move.heard.danger === 'none' && move.heard.answer === 'no';
  const clearYes =
    flowOf(from.step ?? '') === DANGER_FLOW && flows.steps.get(from.step ?? '')?.go?.['yes'] !== undefined;
  if (clearNo || clearYes || isEmergency(turn, from.facts.emergencyNumber)) return [];
  if (move.heard === 'silence' && isStrict(flows, turn.step)) return [];
  return [findingAt('danger questions', passage, 'only a clear no may lead away from the danger questions')];
};
