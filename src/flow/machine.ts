import { assign, setup } from 'xstate';
import type { StepOrder } from './document.ts';
import { holds } from './conditions.ts';
import type { Condition } from './conditions.ts';
import type { DeskEvent } from './events.ts';
import { areKnown } from './needs.ts';
import type { Need } from './needs.ts';
import type { StepId } from './book.ts';
import { rowFits } from './symptom-table.ts';
import type { Kept, SymptomRow } from './symptom-table.ts';

/** Raise it when a state that was written by an older engine could no longer be understood by this one. */
export const ENGINE = 1;

/** How many steps back a guest can go. */
const TRAIL_LENGTH = 40;

export interface DeskContext {
  /** The steps of this conversation, newest last. */
  readonly trail: readonly StepId[];
  /** Texts in a row that were not understood at this step. */
  readonly misses: number;
  /** A topic that was named beside a danger sign and is taken up when danger is denied. */
  readonly waitingTopic: string | null;
  /** The step to go on with when danger is denied, where the question that stood names one. */
  readonly waitingStep: StepId | null;
  /** Answers kept for the table of symptoms. */
  readonly kept: Kept;
  /** Danger signs heard so far, for the emergency reply and the callout. */
  readonly signs: readonly string[];
}

/** A condition with the value of its limit, where it has one. */
export interface ConditionAt {
  readonly condition: Condition;
  readonly limit: number | null;
}

function holdsAt({ condition, limit }: ConditionAt, event: DeskEvent): boolean {
  return holds(condition, event.facts, event.answer, limit);
}

function withAnswer(kept: Kept, name: string | null, event: DeskEvent): Kept {
  const { answer } = event;
  const told = answer !== null && answer !== 'unsure' && answer !== 'no-answer';
  return name !== null && told ? { ...kept, [name]: answer } : kept;
}

type PhraseName = 'not-understood' | 'no-way-back' | 'thanks';

/**
 * Guards and actions that compiled flows may name. The actions do nothing: `transition` hands them back as data, and
 * `turn` makes lines and orders of them.
 */
export const deskSetup = setup({
  types: { context: {} as DeskContext, events: {} as DeskEvent },
  guards: {
    /** The branch's condition holds and every fact that the step's words need is known. */
    mayGo: ({ event }, params: { when: ConditionAt | null; needs: readonly Need[] }) =>
      (params.when === null || holdsAt(params.when, event)) && areKnown(params.needs, event.facts),
    holds: ({ event }, params: { when: ConditionAt }) => holdsAt(params.when, event),
    /** The row of the table of symptoms fits what was kept, this answer among it. */
    fitsRow: ({ context, event }, params: { row: SymptomRow; lowPct: number; keep: string | null }) =>
      rowFits(params.row, withAnswer(context.kept, params.keep, event), params.lowPct),
    cameFrom: ({ context }, params: { step: StepId }) => context.trail.at(-2) === params.step,
    missedBefore: ({ context }) => context.misses > 0,
    waitsAt: ({ context }, params: { step: StepId }) => context.waitingStep === params.step,
    waitsFor: ({ context }, params: { topic: string }) => context.waitingTopic === params.topic,
  },
  actions: {
    say: (_, _params: { step: StepId }) => {},
    sayPhrase: (_, _params: { phrase: PhraseName }) => {},
    sayEmergency: () => {},
    order: (_, _params: { order: StepOrder }) => {},
    listen: (_, _params: { after: string; step: StepId }) => {},
    /** What was kept is forgotten on leaving the flow that keeps it: another night's score must not lean on it. */
    arrive: assign({
      kept: ({ context }, params: { step: StepId; keeps: boolean }) => (params.keeps ? context.kept : {}),
      trail: ({ context }, params: { step: StepId; keeps: boolean }) =>
        context.trail.at(-1) === params.step ? context.trail : [...context.trail, params.step].slice(-TRAIL_LENGTH),
      misses: 0,
    }),
    forgetMisses: assign({ misses: 0 }),
    /** Forget this step before going back to the one before it. */
    retreat: assign({ trail: ({ context }) => context.trail.slice(0, -1) }),
    countMiss: assign({ misses: ({ context }) => context.misses + 1 }),
    keepSigns: assign({
      signs: ({ context, event }) => [...new Set([...context.signs, ...event.signs])].toSorted(),
      waitingTopic: ({ context, event }) => event.topic ?? context.waitingTopic,
    }),
    assumeSigns: assign({
      signs: ({ context }, params: { signs: readonly string[] }) =>
        [...new Set([...context.signs, ...params.signs])].toSorted(),
    }),
    keep: assign({
      kept: ({ context, event }, params: { as: string }) => withAnswer(context.kept, params.as, event),
    }),
    waitAt: assign({ waitingStep: (_, params: { step: StepId }) => params.step }),
    /** Danger was denied: what was heard before no longer counts. */
    calm: assign({ signs: [], waitingTopic: null, waitingStep: null }),
  },
});

type Machine = ReturnType<typeof deskSetup.createMachine>;
export type MachineConfig = Parameters<typeof deskSetup.createMachine>[0];
export type DeskMachine = Machine;

export const FRESH_CONTEXT: DeskContext = {
  trail: [],
  misses: 0,
  waitingTopic: null,
  waitingStep: null,
  kept: {},
  signs: [],
};
