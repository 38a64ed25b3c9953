import { normalWord } from './tokens.ts';

/**
 * The small language in which phrases are written in `flows/words/`.
 *
 *   breathe            the word in any of its forms (same stem)
 *   =was               exactly this word
 *   wheez*             any word that begins so
 *   <person>           a set of phrases named elsewhere in the words
 *   a b|c              one of several: "a b" or "c"; in round brackets inside a phrase: (can not|unable to) breathe
 *   ?                  after a word, set or bracket: may be missing
 *   ..  ..5            up to three (five) words of any kind, within one sentence, no denial among them
 */
export type Item =
  | { readonly kind: 'word'; readonly word: string; readonly form: 'stem' | 'exact' | 'prefix' }
  | { readonly kind: 'set'; readonly name: string }
  | { readonly kind: 'gap'; readonly most: number }
  | { readonly kind: 'either'; readonly ways: readonly Sequence[] };
export type Sequence = readonly { readonly item: Item; readonly optional: boolean }[];

const GAP_IN_WORDS = 3;
const LONGEST_GAP = 16;
const PIECE = /\s*(\(|\)\??|\||\.\.\d*|[^\s()|]+)/y;

/**
 * Reads one pattern into the ways it can be said.
 * @throws Error saying what came and what is allowed, without position (the caller knows file and line)
 */
export function parsePattern(source: string): readonly Sequence[] {
  const pieces = split(source);
  let at = 0;

  function alternatives(nested: boolean): Sequence[] {
    const ways: Sequence[] = [];
    let current: { item: Item; optional: boolean }[] = [];
    for (;;) {
      const piece = pieces[at];
      if (piece === undefined || piece.startsWith(')')) {
        if (piece === undefined && nested) throw new Error(`"${source}": a "(" is never closed`);
        if (piece !== undefined && !nested) throw new Error(`"${source}": a ")" without its "("`);
        ways.push(checkWay(current, source));
        return ways;
      }
      at += 1;
      if (piece === '|') {
        ways.push(checkWay(current, source));
        current = [];
      } else if (piece === '(') {
        const inner = alternatives(true);
        current.push({ item: { kind: 'either', ways: inner }, optional: pieces[at] === ')?' });
        at += 1;
      } else {
        current.push(single(piece, source));
      }
    }
  }

  const ways = alternatives(false);
  if (ways.some((way) => way.every(({ optional }) => optional))) {
    throw new Error(`"${source}": a phrase needs at least one word or <set> that must be there`);
  }
  return ways;
}

function checkWay(way: Sequence, source: string): Sequence {
  if (way.length === 0) throw new Error(`"${source}": nothing stands on one side of a "|"`);
  if (way[0]?.item.kind === 'gap' || way.at(-1)?.item.kind === 'gap') {
    throw new Error(`"${source}": ".." stands between words, not at an end`);
  }
  return way;
}

function split(source: string): string[] {
  const pieces: string[] = [];
  const trimmed = source.trim();
  PIECE.lastIndex = 0;
  while (PIECE.lastIndex < trimmed.length) {
    const match = PIECE.exec(trimmed);
    if (match === null) throw new Error(`"${source}": not a phrase`);
    pieces.push(match[1] ?? '');
  }
  return pieces;
}

function single(text: string, source: string): { item: Item; optional: boolean } {
  const gap = /^\.\.(\d*)$/.exec(text);
  if (gap !== null) {
    const most = gap[1] === '' ? GAP_IN_WORDS : Number(gap[1]);
    if (most < 1 || most > LONGEST_GAP) throw new Error(`"${source}": a gap is ..1 to ..${LONGEST_GAP}, not "${text}"`);
    return { item: { kind: 'gap', most }, optional: false };
  }
  const optional = text.endsWith('?');
  return { item: atom(optional ? text.slice(0, -1) : text, source), optional };
}

function atom(text: string, source: string): Item {
  const set = /^<([a-z0-9:.-]+)>$/.exec(text);
  if (set?.[1] !== undefined) return { kind: 'set', name: set[1] };
  const word = /^(=?)([\p{L}\p{N}'%°#+&@/$-]+)(\*?)$/u.exec(text);
  if (word?.[2] === undefined || (word[1] === '=' && word[3] === '*')) {
    throw new Error(`"${source}": "${text}" is not a word, =word, word*, <set>, (a|b) or ".."`);
  }
  return {
    kind: 'word',
    word: normalWord(word[2]),
    form: word[1] === '=' ? 'exact' : word[3] === '*' ? 'prefix' : 'stem',
  };
}
