import { isFigurative, overlaps, standingOf, type Standing } from './context.ts';
import type { Danger, Listening, Sign } from './heard.ts';
import type { Found, Reading } from './reading.ts';
import { readSaturation } from './saturation.ts';
import { isOfTheUnit } from './subject.ts';

/** What a text says about danger, and the words that said so. */
export interface Verdict {
  readonly danger: Danger;
  readonly signs: readonly Sign[];
  /** tokens that decided */
  readonly spans: readonly { readonly start: number; readonly end: number }[];
  /** no second reader lowers it: a sign said plainly, or a number at its limit */
  readonly firm: boolean;
  /** heard as `ask`, and as `now` where there is no second reader */
  readonly likely: boolean;
  /** heard as `none`, and as `ask` where a second reader agrees or there is none */
  readonly maybe: boolean;
  /** a mild symptom was named, whatever the danger */
  readonly symptom: boolean;
}

/** Signs of a body: said of the unit ("the machine is choking") they are none. */
const OF_A_BODY: ReadonlySet<string> = new Set<Sign>([
  'breathing',
  'cyanosis',
  'chest-pain',
  'confusion',
  'unsteady',
  'unresponsive',
  'frothy-cough',
  'seizure',
  'stroke',
  'choking',
  'allergy',
  'injury',
]);

/** Signs that "a little" or "maybe" may soften: a little confused is worth asking, a little fire is a fire. */
const SOFTENED: ReadonlySet<string> = new Set<Sign>([
  'breathing',
  'chest-pain',
  'confusion',
  'unsteady',
  'injury',
  'altitude-illness',
]);

interface Weighed {
  readonly sign: Sign;
  readonly weight: Danger | 'likely' | 'maybe' | 'hint' | 'denied';
  readonly start: number;
  readonly end: number;
}

/** Weighs every danger sign found by what stands around it, and all of them together. */
export function judge(reading: Reading, listening: Listening): Verdict {
  const numbers = readSaturation(reading, listening.asked === 'saturation');
  const weighed: Weighed[] = [...numbers];
  for (const find of reading.found) {
    if (find.section !== 'signs' || isFigurative(find, reading)) continue;
    if (OF_A_BODY.has(find.name) && isOfTheUnit(find, reading)) continue;
    weighed.push({
      sign: find.name as Sign,
      weight: weigh(find, standingOf(find, reading)),
      start: find.start,
      end: find.end,
    });
  }
  weighed.push(...weighTogether(reading));
  const settled = settle(weighed, reading);
  return { ...settled, firm: settled.danger === 'now' || numbers.some(({ weight }) => weight === 'ask') };
}

function weigh(find: Found, standing: Standing): Weighed['weight'] {
  if (standing.denied) return 'denied';
  if (find.detail === 'hint') return standing.over ? 'none' : 'hint';
  if (find.detail === 'maybe') return 'maybe';
  if (standing.distant || find.detail === 'ask') return 'ask';
  if (standing.mild && SOFTENED.has(find.name)) return 'ask';
  return find.detail === 'likely' ? 'likely' : 'now';
}

function weighTogether(reading: Reading): Weighed[] {
  const out: Weighed[] = [];
  for (const { sets, level, sign } of reading.lexicon.together) {
    const finds = sets.map((set) =>
      findsOf(set, reading).find((found) => {
        const { denied, distant } = standingOf(found, reading);
        return !denied && (level === 'ask' || !distant);
      }),
    );
    const [first] = finds;
    if (first === undefined || finds.includes(undefined)) continue;
    for (const find of finds)
      if (find !== undefined) out.push({ sign, weight: level, start: find.start, end: find.end });
  }
  return out;
}

/** Finds of a set, or of a sign at any level: `headache`, `signs:confusion`. */
function findsOf(set: string, reading: Reading): readonly Found[] {
  if (!set.includes(':')) return reading.sets.get(set) ?? [];
  const [section, name, detail] = set.split(':');
  return reading.found.filter(
    (one) => one.section === section && one.name === name && (detail === undefined || one.detail === detail),
  );
}

function settle(weighed: readonly Weighed[], reading: Reading): Verdict {
  const at = (weight: Weighed['weight']): Weighed[] => weighed.filter((one) => one.weight === weight);
  const [now, likely, hints] = [at('now'), at('likely'), at('hint')];
  const ask = [...likely, ...at('ask')];
  const maybe = at('maybe');
  // A denial inside a sign that stands ("no pulse, not breathing") is part of it, not a denied sign of its own.
  const denied = at('denied').filter((one) => ![...now, ...ask].some((other) => overlaps(one, other)));
  const worried = reading.contexts.filter(
    (found) =>
      found.name === 'worried' && !denied.some((one) => overlaps(one, found)) && !standingOf(found, reading).denied,
  );
  const symptom = weighed.some((one) => OF_A_BODY.has(one.sign) || one.sign === 'altitude-illness');
  if (now.length > 0) return verdict('now', [...now, ...ask], symptom);
  if (ask.length > 0) return { ...verdict('ask', ask, symptom), likely: likely.length > 0 };
  if (
    hints.length > 0 &&
    (new Set(hints.map(({ sign }) => sign)).size > 1 || denied.length > 0 || worried.length > 0)
  ) {
    return verdict('ask', hints, symptom);
  }
  if (denied.length > 0 && worried.length > 0) return verdict('ask', denied, symptom);
  if (maybe.length > 0 && (hints.length > 0 || worried.length > 0)) return verdict('ask', maybe, symptom);
  if (maybe.length > 0) return { ...verdict('none', maybe, symptom), maybe: true };
  return {
    danger: 'none',
    signs: [],
    spans: hints,
    firm: false,
    likely: false,
    maybe: false,
    symptom: hints.length > 0,
  };
}

function verdict(danger: Danger, from: readonly Weighed[], symptom: boolean): Verdict {
  const signs = [...new Set(from.map(({ sign }) => sign))].toSorted();
  return { danger, signs, spans: widest(from), firm: false, likely: false, maybe: false, symptom };
}

/** Of spans within one another the widest, from left to right. */
function widest(spans: readonly Weighed[]): Weighed[] {
  const out: Weighed[] = [];
  for (const span of [...spans].toSorted((a, b) => a.start - b.start || b.end - a.end)) {
    const last = out.at(-1);
    if (last === undefined || span.end > last.end) out.push(span);
  }
  return out;
}
