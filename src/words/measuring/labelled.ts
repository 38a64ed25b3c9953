import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { AnswerKind, Danger, Language, Sign, Topic } from '../heard.ts';

/** A guest's text with what a careful reader would make of it. */
export interface Labelled {
  readonly id: string;
  readonly text: string;
  readonly lang: Language;
  readonly asked?: AnswerKind;
  readonly choices?: readonly string[];
  readonly now?: string;
  readonly expect: {
    readonly danger: Danger;
    readonly signs: readonly Sign[];
    /** null where it does not matter */
    readonly topic: Topic | null;
    /** null where nothing was asked */
    readonly answer: string | number | null;
  };
}

/**
 * Reads a set of labelled texts of a language: `NAME.jsonl`, and what was added to it later, `NAME-2.jsonl` and so on.
 * @throws Error when there is none, or with file and line where a line is no JSON
 */
export function readSet(folder: string, name: string): Labelled[] {
  const files = readdirSync(folder).filter(
    (file) => file.startsWith(name) && /^(?:-\d+)?\.jsonl$/.test(file.slice(name.length)),
  );
  if (files.length === 0) throw new Error(`${folder} has no set "${name}": there must be ${name}.jsonl`);
  return files.toSorted().flatMap((file) => readLabelled(join(folder, file)));
}

/**
 * Reads labelled texts, one JSON object a line.
 * @throws Error with file and line where a line is no JSON
 */
export function readLabelled(path: string): Labelled[] {
  return readFileSync(path, 'utf8')
    .split('\n')
    .flatMap((line, index) => {
      if (line.trim() === '') return [];
      try {
        return [JSON.parse(line) as Labelled];
      } catch (cause) {
        throw new Error(`${path}:${index + 1}: not a JSON object`, { cause });
      }
    });
}
