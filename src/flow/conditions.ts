import type { Facts } from './facts.ts';

/** Conditions that a branch of a flow may name. A closed list: each is a plain question about the facts or the number. */
export const CONDITIONS = [
  'fragile',
  'has-cylinder',
  'has-setting',
  'has-front-desk',
  'takes-texts',
  'at-night',
  'above-maximum',
  'above-setting',
  'for-two',
  'child',
  'keeps-carbon-dioxide',
] as const;
export type Condition = (typeof CONDITIONS)[number];

/** Whether a condition holds. `answer` is the number the guest gave, L/min, for the conditions that compare one. */
export function holds(condition: Condition, facts: Facts, answer: number | null): boolean {
  switch (condition) {
    case 'fragile':
      return facts.fragile;
    case 'has-cylinder':
      return facts.cylinder;
    case 'has-setting':
      return facts.setting !== null;
    case 'has-front-desk':
      return facts.frontDesk !== null;
    case 'takes-texts':
      return facts.textToEmergency;
    case 'at-night':
      return facts.night;
    case 'above-maximum':
      return answer !== null && facts.maximumFlowRateLpm !== null && answer > facts.maximumFlowRateLpm;
    case 'above-setting':
      return answer !== null && facts.setting !== null && answer > facts.setting.toLpm;
    case 'for-two':
      return facts.people === 2;
    case 'child':
      return facts.child;
    case 'keeps-carbon-dioxide':
      return facts.keepsCarbonDioxide;
    default:
      return condition satisfies never;
  }
}
