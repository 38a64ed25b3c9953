import type { AnswerHeard, Question } from './question.ts';
import { standingOf } from './context.ts';
import { ANSWER_KINDS } from './heard.ts';
import type { Found, Reading } from './reading.ts';

/** Kinds whose values include yes and no: a plain "yes" or "nope" answers them. */
const TAKES_YES_OR_NO: ReadonlySet<string> = new Set(
  Object.entries(ANSWER_KINDS)
    .filter(([, { values }]) => (values as readonly string[]).includes('yes'))
    .map(([kind]) => kind),
);
/** A plain yes or no counts where the text begins with it, within this many words, or ends with it. */
const EARLY = 2;

/** The value whose words say most in the text; `unsure` when that is what is said; null when nothing is. */
export function hearValue(reading: Reading, question: Question): AnswerHeard | null {
  const { asked } = question;
  let best: { value: string; score: number; found: Found } | null = null;
  const correction = reading.found.find((one) => one.name === 'correction');
  for (const found of reading.found) {
    if (found.section !== 'answers') continue;
    const own = found.name === asked;
    const general = found.name === 'any' && (found.detail === 'unsure' || TAKES_YES_OR_NO.has(asked));
    if (!own && !general) continue;
    // Places in a list and units of time stand under `any` too, for those who look for them.
    if (found.name === 'any' && /^(choice|time-unit)-/.test(found.detail)) continue;
    const atAnEnd = found.start < EARLY || found.end === reading.tokens.length;
    if (!own && found.detail !== 'unsure' && !atAnEnd) continue;
    let score = found.end - found.start + (own ? 1.5 : 0);
    if (found.detail !== 'unsure' && own && standingOf(found, reading).denied) score -= 3;
    if (found.detail === 'unsure') score += 1;
    if (correction !== undefined && found.start >= correction.end) score += 10;
    if (best === null || score > best.score) best = { value: found.detail, score, found };
  }
  if (best === null || best.score <= 0) return null;
  const spans = [{ start: best.found.start, end: best.found.end }];
  const isNumber = ANSWER_KINDS[asked].number && /^[\d.]+$/.test(best.value);
  return { answer: isNumber ? Number(best.value) : best.value, spans };
}
