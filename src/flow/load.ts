import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { kept } from '../reading/kept.ts';
import { ProblemsError } from '../reading/yaml.ts';
import type { FlowBook } from './book.ts';
import { readBook } from './read-book.ts';
import type { FlowFile } from './read-book.ts';
import type { ReadFlowBook } from './placed-book.ts';

/** The flows that ship with the desk. */
export const FLOWS_DIRECTORY = join(import.meta.dirname, '../../flows');

export function readFlowFiles(directory: string): readonly FlowFile[] {
  return readdirSync(directory)
    .filter((file) => file.endsWith('.yaml'))
    .toSorted()
    .map((file) => ({ file, text: readFileSync(join(directory, file), 'utf8') }));
}

/**
 * The book of a folder of flows.
 * @throws ProblemsError with file, line and column of everything that is wrong.
 */
export function loadBook(directory: string = FLOWS_DIRECTORY): ReadFlowBook {
  const reading = readBook(readFlowFiles(directory));
  if (!reading.ok) throw new ProblemsError(`The flows in ${directory} cannot be used:`, reading.problems);
  return reading.read;
}

/**
 * The book that ships, to be used rather than looked at: as it was read when these files were last read.
 * @throws ProblemsError as `loadBook`
 */
export function loadBookToUse(): FlowBook {
  const sources = readFlowFiles(FLOWS_DIRECTORY).flatMap(({ file, text }) => [file, text]);
  return kept('book', { sources, rooms: ['flow', 'words', 'care'] }, () => loadBook().book);
}
