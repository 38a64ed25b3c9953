import type { Facts } from './facts.ts';
import { PROFILES } from './profiles.ts';
import type { ReadFlowBook } from './placed-book.ts';
import { askIsAsked, nowIsAnEmergency, onlyNoIsNo } from './rules/danger.ts';
import type { Finding, PassageRule, WalkRule, WordingRule } from './rules/finding.ts';
import { nothingForbidden, pausesAreMarked } from './rules/forbidden.ts';
import { emergencyFits, stepsFit } from './rules/length.ts';
import { noOtherNumberSaid, noTypedNumbers, rightSettingNamed, sameNumbersInBoth } from './rules/numbers.ts';
import { easyToRead } from './rules/reading.ts';
import { callsCanBeSaid, stepsCanBeSaid } from './rules/spoken.ts';
import { alwaysAReply, endsInTime, missesBringAPerson, personOnRequest, unreachable } from './rules/ways-on.ts';
import { flowsOf } from './turn.ts';
import type { Flows } from './turn.ts';
import { walk } from './walk.ts';

const PASSAGE_RULES: readonly PassageRule[] = [
  nowIsAnEmergency,
  askIsAsked,
  onlyNoIsNo,
  personOnRequest,
  alwaysAReply,
  missesBringAPerson,
  noOtherNumberSaid,
];
const WORDING_RULES: readonly WordingRule[] = [
  stepsFit,
  emergencyFits,
  noTypedNumbers,
  sameNumbersInBoth,
  rightSettingNamed,
  nothingForbidden,
  pausesAreMarked,
  easyToRead,
  stepsCanBeSaid,
  callsCanBeSaid,
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

/** Walks as one kind of guest. Rules see each passage as it is made: a walk is too long to be kept. */
function checkWalk(flows: Flows, facts: Facts, reach: WalkRule): { passages: number; findings: readonly Finding[] } {
  const bounds = endsInTime(flows);
  const findings: Finding[] = [];
  let passages = 0;
  for (const passage of walk(flows, facts, 'en')) {
    passages += 1;
    findings.push(...PASSAGE_RULES.flatMap((rule) => rule(passage, flows)));
    bounds.see(passage);
    reach.see(passage);
  }
  return { passages, findings: [...findings, ...bounds.findings()] };
}

/**
 * Whether any path through the flows can hurt or strand someone. Walks every reachable state as every kind of guest; the
 * languages share one machine, so the walk is made in one and the wordings are looked at in both.
 */
export function checkFlows(read: ReadFlowBook, profiles: Readonly<Record<string, Facts>> = PROFILES): CheckResult {
  const flows = flowsOf(read.book);
  const reach = unreachable(flows);
  const walks = Object.values(profiles).map((facts) => checkWalk(flows, facts, reach));
  const findings = [
    ...WORDING_RULES.flatMap((rule) => rule(read, flows)),
    ...walks.flatMap((each) => each.findings),
    ...reach.findings(),
  ];
  const passages = walks.reduce((sum, each) => sum + each.passages, 0);
  return { findings: onePerPlace(findings), steps: flows.steps.size, passages };
}
