import type { Item, Sequence } from './pattern.ts';

/** A place in the compiled phrases: what may come next, and which sets of phrases end here. */
export interface Node {
  readonly next: ReadonlyMap<number, readonly Node[]>;
  readonly gaps: readonly { readonly most: number; readonly node: Node }[];
  readonly ends: readonly number[];
}

/** A place while the phrases are compiled. Most places hold next to nothing: what is empty is shared until it is not. */
interface Place extends Node {
  next: Map<number, Place[]>;
  gaps: { readonly most: number; readonly node: Place }[];
  ends: number[];
  /** Places already made from here, by what leads to them. */
  shared: Map<string, Place> | null;
}

const NO_NEXT: Map<number, Place[]> = new Map();
const NO_GAPS: Place['gaps'] = [];
const NO_ENDS: number[] = [];

/** All phrases of one language compiled together. Words and sets are symbols (small whole numbers). */
export interface Grammar {
  readonly root: Node;
  readonly symbols: ReadonlyMap<string, number>;
  readonly names: readonly string[];
  readonly prefixes: readonly { readonly text: string; readonly symbol: number }[];
}

/** Brings a word to its stem, as both phrases and texts are compared. */
export type Stem = (word: string) => string;

function freshPlace(): Place {
  return { next: NO_NEXT, gaps: NO_GAPS, ends: NO_ENDS, shared: null };
}

/**
 * Compiles phrases into one graph in which phrases with the same beginning share it.
 *
 * Symbols are named `=word`, `~stem`, `^prefix` and `<set>`; a set is matched like a word once one of its phrases
 * was found, so sets may be built from sets.
 */
export class GrammarBuilder {
  readonly #root = freshPlace();
  readonly #symbols = new Map<string, number>();
  readonly #names: string[] = [];
  readonly #prefixes: { text: string; symbol: number }[] = [];
  readonly #stem: Stem;
  /** Phrases repeat their words: each is stemmed once. */
  readonly #stems = new Map<string, number>();

  constructor(stem: Stem) {
    this.#stem = stem;
  }

  /** The number of a symbol, new or known. */
  symbol(name: string): number {
    const known = this.#symbols.get(name);
    if (known !== undefined) return known;
    const symbol = this.#names.length;
    this.#symbols.set(name, symbol);
    this.#names.push(name);
    return symbol;
  }

  /** Adds one phrase to a set. */
  add(set: string, phrase: Sequence): void {
    const symbol = this.symbol(`<${set}>`);
    for (const place of this.#follow([this.#root], phrase)) {
      if (!place.ends.includes(symbol)) place.ends = [...place.ends, symbol];
    }
  }

  done(): Grammar {
    return { root: this.#root, symbols: this.#symbols, names: this.#names, prefixes: this.#prefixes };
  }

  #follow(from: Place[], phrase: Sequence): Place[] {
    let here = from;
    for (const { item, optional } of phrase) {
      const after = this.#step(here, item);
      here = optional ? [...new Set([...here, ...after])] : after;
    }
    return here;
  }

  #step(from: Place[], item: Item): Place[] {
    if (item.kind === 'gap') {
      return from.map((node) => {
        const made = shared(node, `..${item.most}`);
        if (made.isNew) node.gaps = [...node.gaps, { most: item.most, node: made.node }];
        return made.node;
      });
    }
    if (item.kind === 'either') {
      const singles = item.ways.map((way) => (way.length === 1 && way[0]?.optional === false ? way[0].item : null));
      if (singles.every((single) => single !== null && single.kind !== 'gap' && single.kind !== 'either')) {
        return this.#edges(from, singles);
      }
      return [...new Set(item.ways.flatMap((way) => this.#follow(from, way)))];
    }
    return this.#edges(from, [item]);
  }

  /** One new node per place in `from`, reached by any of the items: choices of single words do not multiply. */
  #edges(from: Place[], items: readonly Item[]): Place[] {
    const symbols = [...new Set(items.map((item) => this.#symbolOf(item)))].toSorted((a, b) => a - b);
    return from.map((node) => {
      const made = shared(node, symbols.join(','));
      if (made.isNew) {
        if (node.next === NO_NEXT) node.next = new Map();
        for (const symbol of symbols) {
          const known = node.next.get(symbol);
          if (known === undefined) node.next.set(symbol, [made.node]);
          else known.push(made.node);
        }
      }
      return made.node;
    });
  }

  #symbolOf(item: Item): number {
    if (item.kind === 'set') return this.symbol(`<${item.name}>`);
    if (item.kind !== 'word') throw new Error('only words and sets are symbols');
    if (item.form === 'exact') return this.symbol(`=${item.word}`);
    if (item.form === 'stem') {
      const known = this.#stems.get(item.word);
      if (known !== undefined) return known;
      const stem = this.symbol(`~${this.#stem(item.word)}`);
      this.#stems.set(item.word, stem);
      return stem;
    }
    const name = `^${item.word}`;
    const isNew = !this.#symbols.has(name);
    const symbol = this.symbol(name);
    if (isNew) this.#prefixes.push({ text: item.word, symbol });
    return symbol;
  }
}

function shared(node: Place, key: string): { node: Place; isNew: boolean } {
  const known = node.shared?.get(key);
  if (known !== undefined) return { node: known, isNew: false };
  const made = freshPlace();
  node.shared ??= new Map();
  node.shared.set(key, made);
  return { node: made, isNew: true };
}
