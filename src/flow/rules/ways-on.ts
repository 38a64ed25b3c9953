import type { Flows } from '../turn.ts';
import type { Passage } from '../walk.ts';
import { findingAt } from './finding.ts';
import type { Finding, PassageRule, WalkRule } from './finding.ts';

function callsAHuman({ turn }: Passage): boolean {
  return turn.inDanger || turn.orders.some((order) => order.order === 'callout');
}

/** A person on request is reachable in one reply. */
export const personOnRequest: PassageRule = (passage, flows) => {
  const { move, from } = passage;
  if (typeof move.heard === 'string' || move.heard.move !== 'person' || callsAHuman(passage)) return [];
  const asked = from.step !== null && flows.steps.get(from.step)?.otherwise !== undefined;
  return asked ? [] : [findingAt('person', passage, 'a guest who asks for a person must be handed over at once')];
};

/** No text is left without words. */
export const alwaysAReply: PassageRule = (passage) =>
  passage.turn.lines.join('').trim() === ''
    ? [findingAt('reply', passage, 'this leaves the guest without a reply; give the answer a way on')]
    : [];

/** How many texts in a row may be misunderstood before a human is asked for. */
const MISSES_TO_A_PERSON = 2;

/** Two misses in a row bring a person: at most, where a step has its own way on for a miss, two more there. */
export const missesBringAPerson: PassageRule = (passage, flows) => {
  const { move, from } = passage;
  if (move.said !== 'mumble' || from.state === null || from.step === null) return [];
  const { context } = JSON.parse(from.state) as { context: { misses: number } };
  const ownWay =
    flows.steps.get(from.step)?.go?.['miss'] !== undefined || flows.steps.get(from.step)?.end !== undefined;
  if (ownWay || context.misses < MISSES_TO_A_PERSON - 1 || callsAHuman(passage)) return [];
  return [findingAt('misses', passage, 'two texts in a row that are not understood must bring a person')];
};

/** Steps that no kind of guest can come to. */
export function unreachable(flows: Flows): WalkRule {
  const reached = new Set<string>();
  return {
    see({ turn }) {
      reached.add(turn.step);
    },
    findings: () =>
      [...flows.steps.keys()]
        .filter((step) => !reached.has(step))
        .map((where) => ({
          rule: 'reach',
          where,
          message: 'no guest can come to this step; lead to it or take it out',
          path: [],
        })),
  };
}

const ASIDE = new Set(['back', 'again', 'ok', 'mumble', 'a person, please']);

/** Answers lead on in no circle, but for a step that leads to itself until something was tried. */
function longestFrom(
  step: string,
  edges: ReadonlyMap<string, ReadonlySet<string>>,
  flows: Flows,
  onPath: readonly string[],
): { length: number; path: readonly string[]; circle: boolean } {
  if (flows.steps.get(step)?.end !== undefined) return { length: 0, path: [step], circle: false };
  let longest = { length: 0, path: [step] as readonly string[], circle: false };
  for (const next of edges.get(step) ?? []) {
    if (next === step) continue;
    if (onPath.includes(next)) return { length: Infinity, path: [step, next], circle: true };
    const rest = longestFrom(next, edges, flows, [...onPath, next]);
    if (rest.length + 1 > longest.length) longest = { ...rest, length: rest.length + 1, path: [step, ...rest.path] };
  }
  return longest;
}

/** Every path ends within the bounds: so many guest messages from the first text to an ending. */
export function endsInTime(flows: Flows): WalkRule {
  const edges = new Map<string, Set<string>>();
  const openings = new Set<string>();
  return {
    see({ from, move, turn }) {
      if (turn.inDanger || typeof move.heard === 'string' || move.heard.danger !== 'none' || ASIDE.has(move.said))
        return;
      if (from.step === null) openings.add(turn.step);
      else if (!move.said.startsWith('(') && flows.steps.get(from.step)?.end === undefined) {
        edges.set(from.step, (edges.get(from.step) ?? new Set()).add(turn.step));
      }
    },
    findings: () =>
      [...openings].flatMap((opening): Finding[] => {
        const { length, path, circle } = longestFrom(opening, edges, flows, [opening]);
        const bound = Math.max(...path.map((step) => boundOf(flows, step)));
        const guestMessages = length + 1;
        if (!circle && guestMessages <= bound) return [];
        const message = circle
          ? `answers lead in a circle: ${path.join(', ')}`
          : `${guestMessages} guest messages to an ending, ${bound} are allowed: ${path.join(', ')}`;
        return [{ rule: 'bounds', where: opening, message, path: [] }];
      }),
  };
}

function boundOf(flows: Flows, step: string): number {
  const flow = flows.book.flows.find((each) => step.startsWith(`${each.flow}.`));
  return flow?.['guest-messages'] ?? 0;
}
