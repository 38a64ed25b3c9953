import type { Facts } from './facts.ts';
import { PROFILES } from './profiles.ts';
import type { ReadFlowBook } from './read-book.ts';
import { askIsAsked, nowIsAnEmergency, onlyNoIsNo } from './rules/danger.ts';
import type { Finding, PassageRule, WalkRule, WordingRule } from './rules/finding.ts';
import { nothingForbidden, pausesAreMarked } from './rules/forbidden.ts';
import { emergencyFits, stepsFit } from './rules/length.ts';
import { noOtherNumberSaid, noTypedNumbers, sameNumbersInBoth } from './rules/numbers.ts';
import { alwaysAReply, endsInTime, missesBringAPerson, personOnRequest, unreachable } from './rules/ways-on.ts';
import { flowsOf } from './turn.ts';
import type { Flows } from './turn.ts';
import { walk } from './walk.ts';
import type { Passage } from './walk.ts';

const PASSAGE_RULES: readonly PassageRule[] = [
  nowIsAnEmergency,
  askIsAsked,
  onlyNoIsNo,
  personOnRequest,
  alwaysAReply,
  missesBringAPerson,
  noOtherNumberSaid,
];
const WALK_RULES: readonly WalkRule[] = [endsInTime];
const WORDING_RULES: readonly WordingRule[] = [
  stepsFit,
  emergencyFits,
  noTypedNumbers,
  sameNumbersInBoth,
  nothingForbidden,
  pausesAreMarked,
];

export interface CheckResult {
  readonly findings: readonly Finding[];
  readonly steps: number;
  /** Turns taken, over all kinds of guests. */
  readonly passages: number;
}

/** The first finding of each rule at each step: one mistake shows in many states. */
function onePerPlace(findings: readonly Finding[]): readonly Finding[] {
  const first = new Map<string, Finding>();
  for (const finding of findings) {
    const key = `${finding.rule} ${finding.where} ${finding.path.length === 0 ? finding.message : ''}`;
    const known = first.get(key);
    if (known === undefined || finding.path.length < known.path.length) first.set(key, finding);
  }
  return [...first.values()];
}

function checkWalk(flows: Flows, facts: Facts, passages: readonly Passage[]): readonly Finding[] {
  return [
    ...passages.flatMap((passage) => PASSAGE_RULES.flatMap((rule) => rule(passage, flows))),
    ...WALK_RULES.flatMap((rule) => rule(passages, flows, facts)),
  ];
}

/**
 * Whether any path through the flows can hurt or strand someone. Walks every reachable state as every kind of guest; the
 * languages share one machine, so the walk is made in one and the wordings are looked at in both.
 */
export function checkFlows(read: ReadFlowBook, profiles: Readonly<Record<string, Facts>> = PROFILES): CheckResult {
  const flows = flowsOf(read.book);
  const walks = Object.values(profiles).map((facts) => ({ facts, passages: [...walk(flows, facts, 'en')] }));
  const findings = [
    ...WORDING_RULES.flatMap((rule) => rule(read, flows)),
    ...walks.flatMap(({ facts, passages }) => checkWalk(flows, facts, passages)),
    ...unreachable(
      flows,
      walks.map(({ passages }) => passages),
    ),
  ];
  const passages = walks.reduce((sum, each) => sum + each.passages.length, 0);
  return { findings: onePerPlace(findings), steps: flows.steps.size, passages };
}
