import type { StepId } from './book.ts';
import type { ConditionAt } from './machine.ts';
import type { Need } from './needs.ts';
import type { SymptomRow } from './symptom-table.ts';

/** One transition of the machine, as plain data. Guards and actions are those of `machine.ts`, by name. */
export interface Edge {
  readonly guard?:
    | { type: 'mayGo'; params: { when: ConditionAt | null; needs: readonly Need[] } }
    | { type: 'holds'; params: { when: ConditionAt } }
    | { type: 'fitsRow'; params: { row: SymptomRow; lowPct: number; keep: string | null } }
    | { type: 'cameFrom'; params: { step: StepId } }
    | { type: 'missedBefore' }
    | { type: 'waitsAt'; params: { step: StepId } }
    | { type: 'waitsFor'; params: { topic: string } };
  readonly target?: string;
  readonly actions?: readonly object[];
  readonly reenter?: true;
}

export const say = (step: StepId) => ({ type: 'say', params: { step } });
export const sayPhrase = (phrase: string) => ({ type: 'sayPhrase', params: { phrase } });

/** A step that leads to itself says its words again: without this XState would stay where it is, in silence. */
export function reentering(id: StepId, edge: Edge): Edge {
  return edge.target === `#${id}` ? { ...edge, reenter: true } : edge;
}
