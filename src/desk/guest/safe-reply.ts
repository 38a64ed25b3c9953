import { sayEmergency } from '../../flow/emergency.ts';
import type { FlowBook } from '../../flow/book.ts';
import { fill } from '../../flow/say.ts';
import { factsOfAStranger } from '../../flow/facts.ts';
import type { Hear } from '../../words/heard.ts';
import type { Outfit } from './facts-of.ts';
import { forPhone } from '../../flow/for-phone.ts';

/**
 * What a guest is told when the records cannot be written or read. Needs nothing but the words: danger still gets the
 * emergency reply; anything else is told honestly, with the number that reaches a person.
 */
export function safeReply(hear: Hear, book: FlowBook, outfit: Outfit, text: string): string {
  const heard = hear(text);
  const facts = factsOfAStranger(outfit.name, outfit.directNumber, outfit.emergencyNumber);
  const words =
    heard.danger === 'none'
      ? fill(book.phrases.around['desk-down'], heard.lang, facts, book)
      : heard.danger === 'now'
        ? sayEmergency(book, heard.lang, heard.signs, facts)
        : fill(book.phrases.around['desk-down-worrying'], heard.lang, facts, book);
  return forPhone(words, heard.lang);
}
