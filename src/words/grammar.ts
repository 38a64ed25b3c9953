import type { Item, Sequence } from './pattern.ts';

/** A place while the phrases are compiled. Most places hold next to nothing: what is empty is shared until it is not. */
interface Place {
  next: Map<number, Place[]>;
  gaps: { readonly most: number; readonly node: Place }[];
  ends: number[];
  /** Places already made from here, by what leads to them. */
  shared: Map<string, Place> | null;
}

const NO_NEXT: Map<number, Place[]> = new Map();
const NO_GAPS: Place['gaps'] = [];
const NO_ENDS: number[] = [];

/**
 * Rows of several numbers each, one after another: those of row `n` stand from `from[n]` up to `from[n + 1]`.
 * Tens of thousands of places as objects cost fifty megabytes and the garbage collector's time.
 */
export interface Rows {
  readonly from: Int32Array;
  /** what is said, or how much is skipped; within a row in rising order where it is a symbol that leads on */
  readonly label: Int32Array;
  /** the place it leads to; empty where it leads nowhere */
  readonly to: Int32Array;
}

/** All phrases of one language compiled together. Words and sets are symbols, places in phrases are whole numbers. */
export interface Grammar {
  /** by place: the symbols that may come next, and where they lead */
  readonly edges: Rows;
  /** by place: gaps of at most so many words, and where they lead */
  readonly gaps: Rows;
  /** by place: the sets of which a phrase ends there */
  readonly ends: Rows;
  readonly symbols: ReadonlyMap<string, number>;
  readonly names: readonly string[];
  /** beginnings of words, with their symbols */
  readonly prefixes: ReadonlyMap<string, number>;
}

/** The place where every phrase begins. */
export const ROOT = 0;

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
  readonly #prefixes = new Map<string, number>();
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
    return { ...flattened(this.#root), symbols: this.#symbols, names: this.#names, prefixes: this.#prefixes };
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
    const symbol = this.symbol(`^${item.word}`);
    this.#prefixes.set(item.word, symbol);
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

/** Numbers the places from the root on, and writes what they hold as rows. */
function flattened(root: Place): Pick<Grammar, 'edges' | 'gaps' | 'ends'> {
  const places = [root];
  const numbers = new Map([[root, ROOT]]);
  const numberOf = (place: Place): number => {
    const known = numbers.get(place);
    if (known !== undefined) return known;
    numbers.set(place, places.length);
    places.push(place);
    return places.length - 1;
  };
  const edges = new RowWriter();
  const gaps = new RowWriter();
  const ends = new RowWriter();
  // The list grows while it is read: a place is numbered when something first leads to it.
  for (const place of places) {
    for (const [symbol, nexts] of [...place.next].toSorted(([one], [other]) => one - other)) {
      for (const next of nexts) edges.add(symbol, numberOf(next));
    }
    for (const { most, node } of place.gaps) gaps.add(most, numberOf(node));
    for (const symbol of place.ends) ends.add(symbol);
    for (const rows of [edges, gaps, ends]) rows.endRow();
  }
  return { edges: edges.done(), gaps: gaps.done(), ends: ends.done() };
}

class RowWriter {
  readonly #from = [0];
  readonly #label: number[] = [];
  readonly #to: number[] = [];

  add(label: number, to?: number): void {
    this.#label.push(label);
    if (to !== undefined) this.#to.push(to);
  }

  endRow(): void {
    this.#from.push(this.#label.length);
  }

  done(): Rows {
    return { from: Int32Array.from(this.#from), label: Int32Array.from(this.#label), to: Int32Array.from(this.#to) };
  }
}
