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
  'below-setting',
  'for-two',
  'child',
  'keeps-carbon-dioxide',
  'reading-is-an-emergency',
] as const;
export type Condition = (typeof CONDITIONS)[number];

/** The limit of `limits.yaml` that a condition compares with. */
export const LIMIT_OF_CONDITION: Partial<Record<Condition, string>> = {
  'reading-is-an-emergency': 'saturation-again-emergency-pct',
};

/**
 * Whether a condition holds.
 *
 * @param given the guest's answer, compared where it is a number (L/min or percent)
 * @param limit the value of the condition's limit, for a condition that has one
 */
export function holds(
  condition: Condition,
  facts: Facts,
  given: string | number | null,
  limit: number | null = null,
): boolean {
  const answer = typeof given === 'number' ? given : null;
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
    case 'below-setting':
      return answer !== null && facts.setting !== null && answer < facts.setting.fromLpm;
    case 'for-two':
      return facts.people === 2;
    case 'child':
      return facts.child;
    case 'keeps-carbon-dioxide':
      return facts.keepsCarbonDioxide;
    case 'reading-is-an-emergency':
      return answer !== null && limit !== null && answer <= limit;
    default:
      return condition satisfies never;
  }
}
