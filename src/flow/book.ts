import { createHash } from 'node:crypto';
import type { SymptomTable } from './symptom-table.ts';
import type { EmergencyWords, FlowDocument, Limits, Phrases, Step, Target, Voice } from './document.ts';

/** All that `flows/` says, as one value. A conversation names the hash of the book it began with. */
export interface FlowBook {
  readonly flows: readonly FlowDocument[];
  readonly phrases: Phrases;
  readonly emergency: EmergencyWords;
  readonly voice: Voice;
  readonly limits: Limits;
  readonly symptomTable: SymptomTable;
}

/** A step by its full name: "power.listen". */
export type StepId = string;

/** Flow in which the machine starts, its first step, and the flows whose steps the engine itself leads to. */
export const OPENING = 'opening.arrived';
export const AFTER_AN_END = 'opening.after-an-end';
export const EMERGENCY = 'danger.emergency';
export const DANGER_QUESTIONS = 'danger.questions';
export const DANGER_PERSON = 'danger.person-asked';
export const PERSON = 'person.hand-over';
/** What is said to the news that the bottle was filled. */
export const REFILLED = 'refill.noted';
/** What is asked some minutes after a technician was there. */
export const CHECK_BACK = 'check-back.still-well';
/** The target of a flow that leads back to where danger interrupted. */
export const RESUME = 'resume';
/** The target of a flow that lets the table of symptoms decide. */
export const BY_TABLE = 'by-table';
export const STEPS_THE_ENGINE_NAMES = [
  OPENING,
  AFTER_AN_END,
  EMERGENCY,
  DANGER_QUESTIONS,
  DANGER_PERSON,
  PERSON,
  REFILLED,
  CHECK_BACK,
] as const;

/** The flow that stands beside all others: a thread that a guest leaves only by a clear word. */
export const DANGER_FLOW = 'danger';

export function flowOf(step: StepId): string {
  return step.slice(0, step.indexOf('.'));
}

/** "move-outlet" in flow power is "power.move-outlet"; a name with a flow stays as it is. */
export function fullName(flow: string, step: string): StepId {
  return step.includes('.') || step === RESUME || step === BY_TABLE ? step : `${flow}.${step}`;
}

/** Every step of the book with its full name, in the order of the files. */
export function stepsOf(book: FlowBook): ReadonlyMap<StepId, Step> {
  return new Map(
    book.flows.flatMap((flow) =>
      Object.entries(flow.steps).map(([name, step]): [StepId, Step] => [`${flow.flow}.${name}`, step]),
    ),
  );
}

/** The steps that a target names, with their full names. */
export function stepsIn(flow: string, target: Target): readonly StepId[] {
  const names = typeof target === 'string' ? [target] : target.map((branch) => branch.to);
  return names.map((name) => fullName(flow, name));
}

export interface TopicOpening {
  readonly flow: string;
  readonly target: Target;
}

/** Where each topic leads. */
export function topicOpenings(book: FlowBook): ReadonlyMap<string, TopicOpening> {
  return new Map(
    book.flows.flatMap(({ flow, 'opens-on': openings }) =>
      Object.entries(openings).map(([topic, target]): [string, TopicOpening] => [topic, { flow, target }]),
    ),
  );
}

/** The files that a clinician has to review and has not: the desk says so to the owner until they are. */
export function unreviewed(book: FlowBook): readonly string[] {
  const files = { 'limits.yaml': book.limits.reviewed, 'symptom-table.yaml': book.symptomTable.reviewed };
  return Object.entries(files).flatMap(([file, { by, on }]) => (by === null || on === null ? [file] : []));
}

/** The same documents give the same hash, whatever machine reads them. */
export function hashOf(book: FlowBook): string {
  return createHash('sha256').update(JSON.stringify(book)).digest('hex').slice(0, 16);
}
