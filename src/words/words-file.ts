import { isMap, isScalar, LineCounter, parseDocument, type YAMLMap } from 'yaml';
import { parsePattern, type Sequence } from './pattern.ts';

/** One line of a words file, with where it stands. */
export interface Line {
  readonly text: string;
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** A block of lines under its headings: `signs`, `breathing`, `now`. */
export interface Block {
  readonly path: readonly string[];
  readonly lines: readonly Line[];
}

/**
 * Reads one words file: headings, one to three deep, over blocks of lines, one phrase a line; `#` begins a note.
 *
 * @param file  its name, for errors
 * @throws Error with file, line, column, what came and what is allowed
 */
export function readWordsFile(file: string, source: string): Block[] {
  const counter = new LineCounter();
  const document = parseDocument(source, { lineCounter: counter });
  const [error] = document.errors;
  if (error !== undefined) {
    const { line, col } = counter.linePos(error.pos[0]);
    throw new Error(`${file}:${line}:${col}: this is not YAML: ${error.message.split('\n')[0]}`);
  }
  if (!isMap(document.contents)) throw new Error(`${file}:1:1: a words file is headings over blocks of lines`);
  const sourceLines = source.split('\n');
  const blocks: Block[] = [];

  function descend(map: YAMLMap, path: readonly string[]): void {
    for (const pair of map.items) {
      const key = isScalar(pair.key) ? String(pair.key.value) : '';
      const here = [...path, key];
      if (isMap(pair.value)) {
        descend(pair.value, here);
      } else if (isScalar(pair.value) && typeof pair.value.value === 'string') {
        const begins = counter.linePos(pair.value.range?.[0] ?? 0).line;
        const inBlock = pair.value.type === 'BLOCK_LITERAL';
        blocks.push({ path: here, lines: linesOf(pair.value.value, begins + (inBlock ? 1 : 0)) });
      } else {
        const { line, col } = counter.linePos(isScalar(pair.key) ? (pair.key.range?.[0] ?? 0) : 0);
        throw new Error(
          `${file}:${line}:${col}: under "${key}" put a block of lines ("${key}: |") or further headings`,
        );
      }
    }
  }

  function linesOf(value: string, firstLine: number): Line[] {
    return value.split('\n').flatMap((raw, index) => {
      const text = raw.replace(/(^|\s)#.*$/, '').trim();
      if (text === '') return [];
      const line = firstLine + index;
      const column = (sourceLines[line - 1]?.indexOf(text) ?? 0) + 1;
      return [{ text, file, line, column }];
    });
  }

  descend(document.contents, []);
  return blocks;
}

/** An error at a line of a words file. */
export function wordsError(at: Line, problem: string): Error {
  return new Error(`${at.file}:${at.line}:${at.column}: ${problem}`);
}

/** Reads the phrases on a line. @throws Error with its position */
export function phrasesOf(line: Line): readonly Sequence[] {
  try {
    return parsePattern(line.text);
  } catch (cause) {
    throw new Error(wordsError(line, cause instanceof Error ? cause.message : String(cause)).message, { cause });
  }
}
