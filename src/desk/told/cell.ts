import type { Range } from '../../care/range.ts';
import { phoneOf } from '../../reading/phone.ts';
import { isZone } from '../../time/calendar.ts';

/** How the cells of a column are read: null is no value that is allowed. */
export interface CellKind<T> {
  /** What is allowed, in words that go on from "allowed: ". */
  readonly allowed: string;
  read(cell: string): T | null;
}

/** A column of a table that owners write. */
export interface Column<T> {
  readonly about: string;
  /** As it might stand in a file. */
  readonly example: string;
  readonly kind: CellKind<T>;
  /** What an empty cell means, and a row of a file without the column; a column without it must be filled. */
  readonly empty?: T;
  /** What stands between the cells when an owner's map names several headings for the column. */
  readonly joinedBy?: string;
}

export function text(most: number): CellKind<string> {
  return { allowed: `at most ${most} characters`, read: (cell) => (cell.length <= most ? cell : null) };
}

/** With a point only: "9,600" is nine thousand to one spreadsheet and nine and a half to another. */
function numberIn(cell: string): number | null {
  return /^-?\d+(\.\d+)?$/.test(cell) ? Number(cell) : null;
}

export function number({ from, to, unit, advice }: Range, whole: 'whole' | 'any' = 'any'): CellKind<number> {
  return {
    allowed: `a ${whole === 'whole' ? 'whole ' : ''}number from ${from} to ${to} ${unit}, digits only${advice === undefined ? '' : `; ${advice}`}`,
    read(cell) {
      const value = numberIn(cell);
      if (value === null || value < from || value > to) return null;
      return whole === 'whole' && !Number.isInteger(value) ? null : value;
    },
  };
}

const YES = new Set(['yes', 'y', 'true', '1', 'x', 'sí', 'si']);
const NO = new Set(['no', 'n', 'false', '0']);

export const yesOrNo: CellKind<boolean> = {
  allowed: 'yes or no',
  read(cell) {
    const word = cell.toLowerCase();
    if (YES.has(word)) return true;
    return NO.has(word) ? false : null;
  },
};

export function oneOf<const Word extends string>(...words: readonly Word[]): CellKind<Word> {
  return {
    allowed: words.join(' or '),
    read: (cell) => words.find((word) => word === cell.toLowerCase()) ?? null,
  };
}

export const phone: CellKind<string> = {
  allowed: 'a phone number, as (970) 555-0101; with its country code from abroad, as +34 600 000 000',
  read: phoneOf,
};

/** Several phones, each in E.164, sorted and without repeats. */
export const phones: CellKind<readonly string[]> = {
  allowed: `${phone.allowed}; several with a semicolon between`,
  read(cell) {
    const read = cell
      .split(/[;/\n]/)
      .map((part) => part.trim())
      .filter((part) => part !== '')
      .map(phoneOf);
    if (read.length === 0 || read.includes(null)) return null;
    return [...new Set(read as string[])].toSorted();
  },
};

export const zone: CellKind<string> = {
  allowed: 'a time zone of the IANA list, as America/Denver',
  read: (cell) => (isZone(cell) && cell.includes('/') ? cell : null),
};

/** What a guest dials. */
export const emergencyNumber: CellKind<string> = {
  allowed: 'the digits that a guest dials, 3 to 5 of them, as 911',
  read: (cell) => (/^\d{3,5}$/.test(cell) ? cell : null),
};
