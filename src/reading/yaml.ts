import { LineCounter, isMap, isNode, isScalar, parseDocument } from 'yaml';
import type { Document, Node } from 'yaml';
import type { z } from 'zod';

/** Something wrong in a file that people write, with the place to look at (both counted from 1). */
export interface Problem {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** What came, what is allowed, what to write instead. */
  readonly message: string;
}

export interface Place {
  readonly line: number;
  readonly column: number;
}

/** A document that fits its schema, and where each of its parts stands in the file. */
export interface ReadDocument<T> {
  readonly file: string;
  readonly value: T;
  /** The place of the part at a path of keys; of its nearest parent when there is no such part. */
  placeOf(path: readonly PropertyKey[]): Place;
}

export type Reading<T> =
  | { readonly ok: true; readonly document: ReadDocument<T> }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function sayProblem(problem: Problem): string {
  return `${problem.file}:${problem.line}:${problem.column}: ${problem.message}`;
}

/** Several problems as one error, for a program that cannot start with them. */
export class ProblemsError extends Error {
  readonly problems: readonly Problem[];
  constructor(what: string, problems: readonly Problem[]) {
    super(`${what}\n${problems.map(sayProblem).join('\n')}`);
    this.name = 'ProblemsError';
    this.problems = problems;
  }
}

function placeAt(lines: LineCounter, offset: number): Place {
  const { line, col } = lines.linePos(offset);
  return { line, column: col };
}

function nodeAt(document: Document, path: readonly PropertyKey[]): Node | null {
  for (let length = path.length; length >= 0; length -= 1) {
    const node: unknown = document.getIn(path.slice(0, length), true);
    if (isNode(node)) return node;
  }
  return null;
}

/** Where the key itself stands, which is what an unknown or misspelled key wants. */
function keyOffset(document: Document, path: readonly PropertyKey[], key: string): number | null {
  const map: unknown = path.length === 0 ? document.contents : document.getIn(path, true);
  if (!isMap(map)) return null;
  const pair = map.items.find((item) => isScalar(item.key) && item.key.value === key);
  return isNode(pair?.key) ? (pair.key.range?.[0] ?? null) : null;
}

function sayPath(path: readonly PropertyKey[]): string {
  return path.length === 0 ? 'the document' : path.map(String).join(' > ');
}

function came(document: Document, path: readonly PropertyKey[]): string {
  const node = document.getIn(path, true);
  return isScalar(node) ? `, came ${JSON.stringify(node.value)}` : '';
}

/** Reads YAML text and holds it against a schema. All problems at once, each with line and column. */
export function readYaml<S extends z.ZodType>(file: string, text: string, schema: S): Reading<z.output<S>> {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, merge: true });
  const broken = [...document.errors, ...document.warnings];
  if (broken.length > 0) {
    const problems = broken.map((error) => ({ file, ...placeAt(lines, error.pos[0]), message: error.message }));
    return { ok: false, problems };
  }
  const result = schema.safeParse(document.toJS());
  const placeOf = (path: readonly PropertyKey[]): Place => placeAt(lines, nodeAt(document, path)?.range?.[0] ?? 0);
  if (result.success) return { ok: true, document: { file, value: result.data, placeOf } };
  const problems = result.error.issues.flatMap((issue): Problem[] => {
    if (issue.code !== 'unrecognized_keys') {
      const message = `${sayPath(issue.path)}: ${issue.message}${came(document, issue.path)}`;
      return [{ file, ...placeOf(issue.path), message }];
    }
    return issue.keys.map((key) => ({
      file,
      ...placeAt(lines, keyOffset(document as Document, issue.path, key) ?? 0),
      message: `${sayPath(issue.path)}: "${key}" is not a key that may stand here; take it out or correct its spelling`,
    }));
  });
  return { ok: false, problems };
}
