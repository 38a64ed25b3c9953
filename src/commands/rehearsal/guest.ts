import type { Language } from '../../words/heard.ts';
import type { Chance } from '../trials/chance.ts';
import { truthAt } from './faults.ts';
import type { Fault } from './faults.ts';
import type { Phrasebook } from './labelled.ts';

/** How a guest answers. */
export const MANNERS = ['terse', 'rambling', 'wrong', 'silent', 'elsewhere'] as const;
export type Manner = (typeof MANNERS)[number];

/** Someone made up: what is wrong at theirs, how they answer, and in which language. */
export interface Guest {
  readonly fault: Fault;
  readonly manner: Manner;
  readonly lang: Language;
}

/** A question as it stands before the guest. */
export interface Asked {
  readonly step: string;
  readonly kind: string | null;
  readonly choices: readonly string[];
}

/** One time in so many a guest of that manner does what the manner says; else they answer as they can. */
const ONE_IN: Readonly<Record<Manner, number>> = { terse: 1, rambling: 2, wrong: 4, silent: 5, elsewhere: 4 };

function menuReply(value: string | number, { choices }: Asked): string | null {
  const index = choices.indexOf(String(value));
  return index < 0 ? null : String(index + 1);
}

/** What most people type to a plain question. */
const PLAIN: Readonly<Record<Language, Readonly<Record<string, string>>>> = {
  en: { yes: 'yes', no: 'no' },
  es: { yes: 'sí', no: 'no' },
};

/**
 * The words for a value: half of the time what the menu offers or a plain yes or no, else somebody's own where the
 * phrasebook has some.
 */
function wordsFor(value: string | number, asked: Asked, { lang }: Guest, book: Phrasebook, chance: Chance): string {
  const own = chance.pick(book.answers(asked.kind ?? '', String(value)));
  const plain = menuReply(value, asked) ?? PLAIN[lang][value];
  if (plain !== undefined && (own === undefined || chance.below(2) === 0)) return plain;
  return own ?? String(value);
}

/**
 * What the guest says to a question; null for silence. The words are other people's, from the kept-aside messages: the desk
 * is not rehearsed on the words it was made from.
 */
export function sayTo(asked: Asked, guest: Guest, book: Phrasebook, chance: Chance): string | null {
  const { fault, manner, lang } = guest;
  const acts = chance.below(ONE_IN[manner]) === 0;
  if (manner === 'silent' && acts) return null;
  if (manner === 'elsewhere' && acts) return chance.pick(book.besides) ?? 'ok';
  const truth = asked.kind === null ? null : truthAt(fault, asked.step, asked.kind);
  if (truth === null) return lang === 'es' ? 'no sé' : "i don't know";
  const wrong = manner === 'wrong' && acts ? chance.pick(asked.choices) : undefined;
  const words = wordsFor(wrong ?? truth, asked, guest, book, chance);
  if (manner !== 'rambling' || !acts) return words;
  return lang === 'es'
    ? `bueno mire, son las tantas y ya no sé, pero ${words}`
    : `ok so we just got back and its late but ${words}`;
}
