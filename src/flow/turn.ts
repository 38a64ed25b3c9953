import { initialTransition, transition } from 'xstate';
import type { AnyMachineSnapshot } from 'xstate';
import type { AnswerKind, Heard, Language, Topic } from '../words/heard.ts';
import { DANGER_FLOW, OPENING, flowOf, fullName, stepsIn, stepsOf, topicOpenings } from './book.ts';
import type { FlowBook, StepId, TopicOpening } from './book.ts';
import { compile } from './compile.ts';
import type { Phrases, Step, StepOrder } from './document.ts';
import { sayEmergency } from './emergency.ts';
import type { Ending } from './ending.ts';
import { eventOf, withoutText } from './events.ts';
import type { DeskEvent } from './events.ts';
import type { Facts } from './facts.ts';
import type { DeskContext, DeskMachine } from './machine.ts';
import { areKnown, needsOf } from './needs.ts';
import { fill, sayStep } from './say.ts';

/** What `turn` asks to be done, as data: the desk writes it into the records with the entry. */
export type FlowOrder =
  | { readonly order: 'callout'; readonly urgency: 'danger' | 'tonight' | 'morning'; readonly signs: readonly string[] }
  | { readonly order: 'listen'; readonly after: string; readonly step: StepId }
  | { readonly order: 'note-outlet'; readonly note: 'works' | 'switched' | 'dead' | 'placed' }
  | { readonly order: 'note-refill' }
  | { readonly order: 'tell-technician'; readonly what: 'cannot-call' | 'nobody-called' | 'all-well-said' };

/** A line of a turn: a step's words, a sentence around them, or the emergency words for the signs heard. */
export type SaidLine =
  | { readonly line: 'step'; readonly step: StepId }
  | { readonly line: 'phrase'; readonly phrase: keyof Phrases['around'] }
  | { readonly line: 'emergency'; readonly signs: readonly string[] };

export interface Turn {
  /** The machine's state, JSON; the next turn begins with it. */
  readonly state: string;
  readonly step: StepId;
  readonly lines: readonly string[];
  /** What each line is, for a voice that says it in other words. */
  readonly said: readonly SaidLine[];
  readonly orders: readonly FlowOrder[];
  readonly ending: Ending | null;
  /** Whether the step that stood could make nothing of the text. */
  readonly missed: boolean;
  /** Whether the conversation stands in the danger thread. */
  readonly inDanger: boolean;
}

/** Flows ready to be followed: the book, its machine and what is looked up in it at every turn. */
export interface Flows {
  readonly book: FlowBook;
  readonly machine: DeskMachine;
  readonly steps: ReadonlyMap<StepId, Step>;
  readonly topics: ReadonlyMap<string, TopicOpening>;
}

export function flowsOf(book: FlowBook): Flows {
  return { book, machine: compile(book), steps: stepsOf(book), topics: topicOpenings(book) };
}

/** What the next text is heard against. */
export function listeningAt(flows: Flows, step: StepId): { asked?: AnswerKind; choices?: readonly string[] } {
  const { hears, choices } = flows.steps.get(step) ?? {};
  return { ...(hears === undefined ? {} : { asked: hears }), ...(choices === undefined ? {} : { choices }) };
}

function stepAt(snapshot: AnyMachineSnapshot): StepId {
  const leaf = (value: unknown, path: readonly string[]): readonly string[] =>
    typeof value === 'string'
      ? [...path, value]
      : Object.entries(value as object).flatMap(([k, v]) => leaf(v, [...path, k]));
  return leaf(snapshot.value, []).slice(-2).join('.');
}

export class StateNotRestored extends Error {
  constructor(cause: unknown) {
    super('a stored state does not fit these flows; the guest is to be sorted anew', { cause });
    this.name = 'StateNotRestored';
  }
}

/** A text looks twice at the state that stands: to hear it, and to move on from it. States never change, so one is kept. */
const lastRestored = new WeakMap<Flows, { readonly state: string; readonly snapshot: AnyMachineSnapshot }>();

function restore(flows: Flows, state: string): AnyMachineSnapshot {
  const last = lastRestored.get(flows);
  if (last?.state === state) return last.snapshot;
  const snapshot = restoreNow(flows, state);
  lastRestored.set(flows, { state, snapshot });
  return snapshot;
}

function restoreNow(flows: Flows, state: string): AnyMachineSnapshot {
  try {
    const snapshot = flows.machine.restoreSnapshot(JSON.parse(state)) as AnyMachineSnapshot;
    if (!flows.steps.has(stepAt(snapshot))) throw new Error(`no such step: ${stepAt(snapshot)}`);
    return snapshot;
  } catch (cause) {
    throw new StateNotRestored(cause);
  }
}

/** The step at which a stored state stands. @throws StateNotRestored */
export function stepOfState(flows: Flows, state: string): StepId {
  return stepAt(restore(flows, state));
}

interface Said {
  readonly type: string;
  readonly params?: unknown;
}

function orderOf(order: StepOrder, signs: readonly string[]): FlowOrder {
  if ('callout' in order) return { order: 'callout', urgency: order.callout, signs };
  if ('note-outlet' in order) return { order: 'note-outlet', note: order['note-outlet'] };
  if ('note-refill' in order) return { order: 'note-refill' };
  return { order: 'tell-technician', what: order['tell-technician'] };
}

interface Moved {
  readonly snapshot: AnyMachineSnapshot;
  readonly actions: readonly Said[];
}

function oneMove(flows: Flows, before: AnyMachineSnapshot, event: DeskEvent): Moved {
  const [snapshot, actions] = transition(flows.machine, before as never, event) as unknown as [
    AnyMachineSnapshot,
    readonly Said[],
  ];
  return { snapshot, actions };
}

/** Steps that lead on, one to the next, for want of a fact: more would be a circle in the flows. */
const MOST_STEPS_ON = 5;

/**
 * Moves the machine. A fact may have been known when a step was reached and be unknown now: a stay ends at midnight, an
 * outlet that was told is found dead. The step's words are then left out, and it leads where it does without that fact.
 */
function moved(flows: Flows, before: AnyMachineSnapshot, event: DeskEvent): Moved {
  let { snapshot, actions } = oneMove(flows, before, event);
  for (let on = 0; on < MOST_STEPS_ON; on += 1) {
    const step = stepAt(snapshot);
    const says = actions.some(({ type, params }) => type === 'say' && stepOf(params) === step);
    if (!says || areKnown(needsOf(stepNamed(flows, step)), event.facts)) break;
    const next = oneMove(flows, snapshot, { ...event, type: 'unknown' });
    actions = [...actions.filter(({ params }) => stepOf(params) !== step), ...next.actions];
    snapshot = next.snapshot;
  }
  return { snapshot, actions };
}

const stepOf = (params: unknown): StepId | undefined => (params as { step?: StepId } | undefined)?.step;

function move(flows: Flows, before: AnyMachineSnapshot, event: DeskEvent, lang: Language, current: FlowBook): Turn {
  const { snapshot, actions } = moved(flows, before, event);
  const step = stepAt(snapshot);
  const { signs } = snapshot.context as DeskContext;
  const lines: string[] = [];
  const said: SaidLine[] = [];
  const say = (line: SaidLine, words: string): void => {
    said.push(line);
    lines.push(words);
  };
  const orders: FlowOrder[] = [];
  for (const { type, params } of actions) {
    const given = (params ?? {}) as { step: StepId; phrase: keyof Phrases['around']; order: StepOrder; after: string };
    if (type === 'say')
      say({ line: 'step', step: given.step }, sayStep(stepNamed(flows, given.step), lang, event.facts, flows.book));
    if (type === 'sayPhrase')
      say(
        { line: 'phrase', phrase: given.phrase },
        fill(flows.book.phrases.around[given.phrase], lang, event.facts, flows.book),
      );
    // The words of an emergency are always today's, whatever flows the conversation began with.
    if (type === 'sayEmergency') say({ line: 'emergency', signs }, sayEmergency(current, lang, signs, event.facts));
    if (type === 'order') orders.push(orderOf(given.order, signs));
    if (type === 'listen') orders.push({ order: 'listen', after: given.after, step: given.step });
  }
  const state = JSON.stringify(flows.machine.getPersistedSnapshot(snapshot as never));
  const ending = flows.steps.get(step)?.end ?? null;
  const missed = isMissed(flows.steps.get(stepAt(before)), event);
  return { state, step, lines, said, orders, ending, missed, inDanger: flowOf(step) === DANGER_FLOW };
}

/** No answer, no wish and no matter; or a value of the kind that the step does not offer. */
function isMissed(stood: Step | undefined, { type }: DeskEvent): boolean {
  if (type === 'miss') return true;
  const answer = /^answer:(?<value>.+)$/.exec(type)?.groups?.['value'];
  return answer !== undefined && stood?.go?.[answer] === undefined && stood?.otherwise === undefined;
}

function stepNamed(flows: Flows, id: StepId): Step {
  const step = flows.steps.get(id);
  if (step === undefined) throw new Error(`flows: no step "${id}"`);
  return step;
}

/** What a turn is made of besides the flows. */
export interface TurnInput {
  /** The state of the turn before; null for a first text. */
  readonly state: string | null;
  readonly lang: Language;
  readonly facts: Facts;
  /** Today's flows, whose emergency words are used; the same as the conversation's unless they were edited since. */
  readonly current: FlowBook;
}

/** Where a topic leads, also where it does for want of a fact: whoever was there has been through its opening. */
function reachedBy(flows: Flows, { flow, target }: TopicOpening): readonly StepId[] {
  return stepsIn(flow, target).flatMap((step) => {
    const without = flows.steps.get(step)?.['if-unknown'];
    return without === undefined ? [step] : [step, fullName(flowOf(step), without)];
  });
}

/**
 * Moves a conversation by one text. Pure: the next state, the lines to say and what is to be done come back as data.
 * @throws StateNotRestored when the stored state does not fit the flows.
 */
export function turn(flows: Flows, input: TurnInput, heard: Heard): Turn {
  const before = input.state === null ? freshSnapshot(flows) : restore(flows, input.state);
  const step = stepAt(before);
  const { trail } = before.context as DeskContext;
  const ended = flows.steps.get(step)?.end !== undefined;
  const opens = (topic: Topic): boolean => {
    const opened = flows.topics.get(topic);
    if (opened === undefined) return false;
    return ended || !reachedBy(flows, opened).some((each) => trail.includes(each));
  };
  const asksForHelp = flows.steps.get(step)?.hears === 'called';
  const standing = { fresh: input.state === null, ended, asksForHelp, opens };
  return move(flows, before, eventOf(heard, standing, input.facts), input.lang, input.current);
}

/** Moves a conversation because nothing was heard in the time that its step allows. @throws StateNotRestored */
export function turnOnSilence(flows: Flows, input: TurnInput & { state: string }): Turn {
  return move(flows, restore(flows, input.state), withoutText('silent', input.facts), input.lang, input.current);
}

/** Asks after a matter for which a technician has been there; nothing while danger stands. @throws StateNotRestored */
export function turnAfterVisit(flows: Flows, input: TurnInput & { state: string }): Turn {
  return move(flows, restore(flows, input.state), withoutText('visited', input.facts), input.lang, input.current);
}

const fresh = new WeakMap<Flows, AnyMachineSnapshot>();

function freshSnapshot(flows: Flows): AnyMachineSnapshot {
  const snapshot = fresh.get(flows) ?? makeFresh(flows);
  fresh.set(flows, snapshot);
  return snapshot;
}

function makeFresh(flows: Flows): AnyMachineSnapshot {
  const [snapshot] = initialTransition(flows.machine);
  const first = snapshot as AnyMachineSnapshot;
  if (stepAt(first) !== OPENING) throw new Error(`flows: the machine must start at ${OPENING}`);
  return first;
}
