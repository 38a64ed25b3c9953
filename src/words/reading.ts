import { findPhrases, type Place, type Span } from './chart.ts';
import type { Lexicon, Meaning } from './lexicon.ts';
import { findNumbers, type NumberFound } from './numbers.ts';
import { FULL_STOP, RUNS_ON, type Token } from './tokens.ts';

/** A set of phrases found, with what it stands for. */
export interface Found extends Meaning {
  readonly start: number;
  readonly end: number;
}

/** A word as one language reads it. */
export interface ReadWord extends Token {
  readonly stem: string;
}

/** One text read with the words of one language. */
export interface Reading {
  readonly text: string;
  readonly tokens: readonly ReadWord[];
  readonly numbers: readonly NumberFound[];
  readonly found: readonly Found[];
  /** those of `found` that bear on others: denials, times, figures of speech */
  readonly contexts: readonly Found[];
  /** those of `found` that only serve others, by the name of their set */
  readonly sets: ReadonlyMap<string, readonly Found[]>;
  /** those under `answers: any:`, by what they say or do: "yes", "unsure", "correction", ... */
  readonly aids: ReadonlyMap<string, readonly Found[]>;
  readonly lexicon: Lexicon;
}

/** Brings a token's word to one that is known, if it is not. */
export type Respell = (word: string) => readonly string[];

/** Reads a text's tokens with one language's words. */
export function read(text: string, written: readonly Token[], lexicon: Lexicon, respell: Respell): Reading {
  const tokens = rewrite(written, lexicon, respell);
  const numbers = findNumbers(tokens, lexicon.numbers);
  const number = lexicon.grammar.symbols.get('<number>') ?? -1;
  const given: Span[] = numbers.map(({ start, end }) => ({ symbol: number, start, end }));
  const chart = findPhrases(
    lexicon.grammar,
    tokens.map((token) => placeOf(token, lexicon)),
    given,
  );
  const found: Found[] = [];
  for (const spans of chart) {
    for (const { symbol, start, end } of spans) {
      const meaning = lexicon.meanings[symbol];
      if (meaning === undefined) continue;
      const { section, name, detail } = meaning;
      found.push({ section, name, detail, start, end });
    }
  }
  const contexts = found.filter(({ section }) => section === 'context');
  const sets = Map.groupBy(
    found.filter(({ section }) => section === 'words'),
    ({ name }) => name,
  );
  const aids = Map.groupBy(
    found.filter(({ section, name }) => section === 'answers' && name === 'any'),
    ({ detail }) => detail,
  );
  return { text, tokens, numbers, found, contexts, sets, aids, lexicon };
}

/** The guest's own words from token `start` up to, not including, `end`. */
export function quote(reading: Reading, start: number, end: number): string {
  const [first, last] = [reading.tokens[start], reading.tokens[end - 1]];
  return first === undefined || last === undefined ? '' : reading.text.slice(first.start, last.end);
}

function rewrite(written: readonly Token[], lexicon: Lexicon, respell: Respell): ReadWord[] {
  const tokens: ReadWord[] = [];
  for (const token of written) {
    let words = rewritten(token.word, lexicon);
    if (words === undefined) {
      words = respell(token.word).flatMap((word) => rewritten(word, lexicon) ?? [word]);
    }
    words.forEach((word, index) => {
      const { start, end } = token;
      const stem = lexicon.stem(word);
      if (index === 0) tokens.push({ word, stem, start, end, before: token.before });
      else tokens.push({ word, stem, start, end, before: RUNS_ON, joined: true });
    });
  }
  return tokens;
}

function rewritten(word: string, lexicon: Lexicon): readonly string[] | undefined {
  const whole = lexicon.rewrites.get(word);
  if (whole !== undefined) return whole;
  if (!word.includes("'")) return undefined;
  for (const { ending, words } of lexicon.endings) {
    if (word.length > ending.length && word.endsWith(ending)) return [word.slice(0, -ending.length), ...words];
  }
  const bare = word.replaceAll("'", '');
  return lexicon.rewrites.get(bare) ?? [bare];
}

function placeOf(token: ReadWord, lexicon: Lexicon): Place {
  const symbols: number[] = [];
  const exact = lexicon.exact.get(token.word);
  if (exact !== undefined) symbols.push(exact);
  const stem = lexicon.stems.get(token.stem);
  if (stem !== undefined) symbols.push(stem);
  for (let length = 1; length <= token.word.length; length += 1) {
    const prefix = lexicon.grammar.prefixes.get(token.word.slice(0, length));
    if (prefix !== undefined) symbols.push(prefix);
  }
  return { symbols, starts: token.before === FULL_STOP, denies: lexicon.denials.has(token.word) };
}
