import type { Language, Sign } from '../words/heard.ts';
import type { Wording } from './document.ts';
import type { FlowBook } from './book.ts';
import type { Facts } from './facts.ts';
import { fill } from './say.ts';

interface BySign {
  readonly signs: readonly Sign[];
  readonly words: Wording;
}

function firstFor(rules: readonly BySign[], signs: readonly string[]): Wording | undefined {
  return rules.find((rule) => rule.signs.some((sign) => signs.includes(sign)))?.words;
}

/**
 * The emergency reply: the number first, then where they are, then at most three things to do by sign. The order of the
 * rules in the file says which sign comes first when there are several. With no single place known it asks for it,
 * without holding the rest back.
 */
export function sayEmergency(book: FlowBook, lang: Language, signs: readonly string[], facts: Facts): string {
  const words = book.emergency;
  const where = facts.address === null || facts.room === null ? words['where-unknown'] : words.where;
  const wordings = [
    firstFor(words['first-by-sign'], signs) ?? words.first,
    where,
    firstFor(words['do-by-sign'], signs) ?? words.do,
    firstFor(words['close-by-sign'], signs) ?? words.close,
  ];
  return wordings.map((wording) => fill(wording, lang, facts, book)).join(' ');
}
