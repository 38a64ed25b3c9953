import { ROOT, type Grammar } from './grammar.ts';
import { firstAtLeast } from './sorted.ts';

/** A set of phrases found in a text: tokens `start` up to, not including, `end`. */
export interface Span {
  readonly symbol: number;
  readonly start: number;
  readonly end: number;
}

/** What the matcher needs to know of each token. */
export interface Place {
  /** The token's own symbols: the exact word, its stem, prefixes it begins with. */
  readonly symbols: readonly number[];
  /** A gap may not begin to skip words here: a sentence begins. */
  readonly starts: boolean;
  /** A gap may not skip this word: it denies. */
  readonly denies: boolean;
}

/** More finds than this at one place are not kept; real texts stay under a tenth of it. */
const MOST_AT_ONE_PLACE = 400;
/** Steps allowed per token, so that no text can make the walk explode; real texts take about a twentieth. */
const MOST_STEPS_PER_TOKEN = 20_000;

/**
 * Finds every phrase of a grammar in a text, and every phrase made of phrases.
 *
 * Works from the last token to the first, so that all that begins further on is known when a phrase needs it; what
 * is found at a place is at once tried as the beginning of larger phrases there.
 *
 * @param given  spans found by other means (numbers), usable in phrases as their set
 * @returns per token the spans that begin there, the token's own symbols among them
 */
export function findPhrases(grammar: Grammar, places: readonly Place[], given: readonly Span[]): Span[][] {
  const chart: Span[][] = places.map((place, start) =>
    place.symbols.map((symbol) => ({ symbol, start, end: start + 1 })),
  );
  for (const span of given) chart[span.start]?.push(span);

  const { edges, gaps, ends } = grammar;
  let steps = 0;
  let here: Span[] = [];
  let start = 0;

  function found(symbol: number, end: number): void {
    if (here.length >= MOST_AT_ONE_PLACE) return;
    for (const span of here) if (span.symbol === symbol && span.end === end) return;
    here.push({ symbol, start, end });
  }

  function endsAt(node: number, at: number): void {
    const to = ends.from[node + 1] ?? 0;
    for (let row = ends.from[node] ?? 0; row < to; row += 1) found(ends.label[row] ?? 0, at);
  }

  function walk(node: number, at: number): void {
    steps -= 1;
    if (steps < 0) return;
    endsAt(node, at);
    const [firstGap, lastGap] = [gaps.from[node] ?? 0, gaps.from[node + 1] ?? 0];
    // What follows a gap may be missing altogether: then the phrase ends before it.
    for (let gap = firstGap; gap < lastGap; gap += 1) endsAt(gaps.to[gap] ?? 0, at);
    if (at >= places.length) return;
    follow(node, at);
    for (let gap = firstGap; gap < lastGap; gap += 1) {
      const most = gaps.label[gap] ?? 0;
      for (let skipped = 0, to = at; ; skipped += 1, to += 1) {
        if (to >= places.length || (to > at && places[to]?.starts === true)) break;
        follow(gaps.to[gap] ?? 0, to);
        if (skipped === most || places[to]?.denies === true) break;
      }
    }
  }

  function follow(node: number, at: number): void {
    const [first, last] = [edges.from[node] ?? 0, edges.from[node + 1] ?? 0];
    if (first === last) return;
    for (const span of chart[at] ?? []) step(first, last, span);
  }

  function step(first: number, last: number, { symbol, end }: Span): void {
    for (
      let edge = firstAtLeast(edges.label, symbol, first, last);
      edge < last && edges.label[edge] === symbol;
      edge += 1
    ) {
      walk(edges.to[edge] ?? 0, end);
    }
  }

  const [first, last] = [edges.from[ROOT] ?? 0, edges.from[ROOT + 1] ?? 0];
  for (start = places.length - 1; start >= 0; start -= 1) {
    here = chart[start] ?? [];
    steps = MOST_STEPS_PER_TOKEN;
    // `here` grows while it is read: larger phrases begin where smaller ones were found.
    for (const span of here) step(first, last, span);
  }
  return chart;
}
