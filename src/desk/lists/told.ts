import type { Language } from '../../words/heard.ts';
import type { Talk } from './records.ts';

/** Texts that said the same and were not understood at the same step. */
export interface NotUnderstood {
  /** As one guest wrote it; long numbers, which may be somebody's phone, are left out. */
  readonly words: string;
  readonly times: number;
  readonly lang: Language;
  /** The step that stood; null at a first text. */
  readonly step: string | null;
}

/** Small letters, no accents, no signs: what is the same said is the same written. */
function folded(words: string): string {
  return words
    .normalize('NFD')
    .replaceAll(/\p{Mark}/gu, '')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

const LONG_NUMBER = /\+?\d[\d\s().-]{5,}\d/g;

const lasting = (step: string | null): step is string => step?.includes('.') === true;

/** What guests said that was not understood, the most frequent first. Texts that have been forgotten are not in it. */
export function notUnderstood(talks: readonly Talk[]): readonly NotUnderstood[] {
  const groups = new Map<string, NotUnderstood>();
  for (const { lang, lines } of talks) {
    for (const { who, words, step, missed } of lines) {
      if (who !== 'guest' || !missed || words.trim() === '') continue;
      const shown = words.replaceAll(LONG_NUMBER, '(number)').trim();
      const key = `${lang} ${step ?? ''} ${folded(shown) || shown}`;
      const known = groups.get(key) ?? { words: shown, times: 0, lang, step };
      groups.set(key, { ...known, times: known.times + 1 });
    }
  }
  return [...groups.values()].toSorted((a, b) => b.times - a.times || (a.words < b.words ? -1 : 1));
}

/** How guests got on at a step. */
export interface StepStanding {
  readonly step: string;
  readonly lang: Language;
  /** Conversations that came to it. */
  readonly asked: number;
  /** Texts that it could make nothing of. */
  readonly missed: number;
  /** Conversations that ended there without a word. */
  readonly gaveUp: number;
}

/** Where guests give up or are not understood, per step and language; the worst first, steps without either left out. */
export function hardSteps(talks: readonly Talk[]): readonly StepStanding[] {
  const standings = new Map<string, StepStanding>();
  const count = (step: string, lang: Language, what: 'asked' | 'missed' | 'gaveUp', times: number): void => {
    const known = standings.get(`${step} ${lang}`) ?? { step, lang, asked: 0, missed: 0, gaveUp: 0 };
    standings.set(`${step} ${lang}`, { ...known, [what]: known[what] + times });
  };
  for (const { lang, lines, ending } of talks) {
    const came = lines.filter(({ who }) => who === 'desk').flatMap(({ step }) => (lasting(step) ? [step] : []));
    for (const step of new Set(came)) count(step, lang, 'asked', 1);
    for (const { who, step, missed } of lines)
      if (who === 'guest' && missed && lasting(step)) count(step, lang, 'missed', 1);
    const last = came.at(-1);
    if (ending === 'gave-up' && last !== undefined) count(last, lang, 'gaveUp', 1);
  }
  const bad = ({ missed, gaveUp }: StepStanding): number => missed + gaveUp;
  return [...standings.values()]
    .filter((standing) => bad(standing) > 0)
    .toSorted((a, b) => bad(b) - bad(a) || b.asked - a.asked || (a.step < b.step ? -1 : 1));
}
