import { createHash } from 'node:crypto';
import type { Column, Values } from './source.ts';

/** How many rows a table has, and what they say. */
export interface Counted {
  readonly rows: number;
  /** SHA-256 over the rows in the order of their key, in hexadecimal digits. */
  readonly checksum: string;
}

/** Counts the rows of a table and sums them up, whichever kind of records they come from. */
export class Digest {
  #rows = 0;
  readonly #columns: readonly Column[];
  readonly #hash = createHash('sha256');

  constructor(columns: readonly Column[]) {
    this.#columns = columns;
  }

  add(row: Values): void {
    this.#rows += 1;
    const texts = this.#columns.map(({ name }) => {
      const value = row[name] ?? null;
      // As text, since one driver gives a large number as a number and the other as text.
      return value === null ? null : String(value);
    });
    this.#hash.update(`${JSON.stringify(texts)}\n`);
  }

  /** Of all rows that were taken; none can be taken after it. */
  end(): Counted {
    return { rows: this.#rows, checksum: this.#hash.digest('hex') };
  }
}
