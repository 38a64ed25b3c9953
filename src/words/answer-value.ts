import type { AnswerHeard, Question } from './question.ts';
import { standingOf } from './context.ts';
import { ANSWER_KINDS } from './heard.ts';
import type { Found, Reading } from './reading.ts';
import { aids, correctionsIn, isAside, takenBackBefore } from './taken-back.ts';
import { PAUSE, RUNS_ON } from './tokens.ts';

/** Kinds whose values include yes and no: a plain "yes" or "nope" answers them. */
const TAKES_YES_OR_NO: ReadonlySet<string> = new Set(
  Object.entries(ANSWER_KINDS)
    .filter(([, { values }]) => (values as readonly string[]).includes('yes'))
    .map(([kind]) => kind),
);
/** A plain yes or no counts where the text begins with it, within this many words, or ends with it. */
const EARLY = 2;

/** A value that answers. */
export interface ValueHeard extends AnswerHeard {
  /** how often something was taken back before it was said */
  readonly corrected: number;
}

/** What a correction weighs against the words of a value. */
const CORRECTED = 10;

/** The value whose words say most in the text; `unsure` when that is what is said; null when nothing is. */
export function hearValue(reading: Reading, question: Question): ValueHeard | null {
  const { asked } = question;
  let best: { value: string; score: number; found: Found; corrected: number } | null = null;
  const corrections = correctionsIn(reading);
  for (const found of reading.found) {
    if (found.section !== 'answers') continue;
    const own = found.name === asked;
    // Much else stands under `any` too, for those who look for it: places in a list, units of time, corrections.
    const general =
      found.name === 'any' &&
      (found.detail === 'unsure' || (TAKES_YES_OR_NO.has(asked) && ['yes', 'no'].includes(found.detail)));
    if ((!own && !general) || isAside(found, reading) || opensApart(found, reading)) continue;
    const atAnEnd = found.start < EARLY || found.end === reading.tokens.length;
    if (!own && found.detail !== 'unsure' && !atAnEnd) continue;
    let score = found.end - found.start + (own ? 1.5 : 0);
    const denied = standingOf(found, reading).denied || isDeniedBehind(found, reading);
    if (found.detail !== 'unsure' && own && denied) score -= 3;
    // However long, what is denied right there must not win by its length: "no mask, just the prongs".
    if (denied && own && isDeniedRightBefore(found, reading)) score = Math.min(score, 1);
    if (found.detail === 'unsure') score += 1;
    const corrected = takenBackBefore(found, corrections);
    score += corrected * CORRECTED;
    if (best === null || score > best.score) best = { value: found.detail, score, found, corrected };
  }
  if (best === null || best.score <= 0) return null;
  const spans = [{ start: best.found.start, end: best.found.end }];
  const isNumber = ANSWER_KINDS[asked].number && /^[\d.]+$/.test(best.value);
  return { answer: isNumber ? Number(best.value) : best.value, spans, corrected: best.corrected };
}

/** "No, the prongs": a "no" before a pause answers, and makes no phrase with what follows. */
function opensApart(found: Found, reading: Reading): boolean {
  if (found.end - found.start < 2 || (reading.tokens[found.start + 1]?.before ?? RUNS_ON) < PAUSE) return false;
  return aids('no-number', reading).some(({ start, end }) => start === found.start && end === found.start + 1);
}

function isDeniedRightBefore(found: Found, reading: Reading): boolean {
  return aids('no-number', reading).some(({ end }) => end === found.start);
}

/** "Mask no, prongs": a denial that ends its clause denies what it follows. */
function isDeniedBehind(found: Found, reading: Reading): boolean {
  const [denial, next] = [reading.tokens[found.end], reading.tokens[found.end + 1]];
  if (denial === undefined || denial.before !== RUNS_ON || next === undefined || next.before < PAUSE) return false;
  return aids('no-number', reading).some((one) => one.start === found.end && one.end === found.end + 1);
}
