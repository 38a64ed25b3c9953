import type { FlowBook } from '../../src/flow/book.ts';
import type { FlowDocument } from '../../src/flow/document.ts';
import { BOOK } from './night-desk.ts';

/**
 * A flow for tests of the desk, so that they stand while the desk's own flows are written anew. A unit that does not start
 * opens it: one question; yes settles it, no is for the morning.
 */
function littleFlow(question: string): FlowDocument {
  const same = (words: string) => ({ en: words, es: words });
  return {
    flow: 'little',
    about: 'One question.',
    matter: 'a little thing',
    'guest-messages': 7,
    'opens-on': { 'no-power': 'question' },
    steps: {
      question: {
        ask: same(question),
        hears: 'yes-no',
        go: { yes: 'settled', no: 'morning', unsure: 'person.hand-over' },
      },
      settled: { tell: same('Good night then.'), end: 'settled' },
      morning: { tell: same('Noted for the morning.'), do: [{ callout: 'morning' }], end: 'technician' },
    },
  };
}

export const LITTLE_QUESTION = 'Does the lamp burn?';

/** The desk's own flows, with the little one on top of them. */
export function littleBook(question: string = LITTLE_QUESTION): FlowBook {
  return { ...BOOK, flows: [...BOOK.flows, littleFlow(question)] };
}

/** What opens it. */
export const DOES_NOT_START = "it won't turn on";
