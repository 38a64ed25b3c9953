import { LineCounter, isMap, isNode, isScalar, parseDocument } from 'yaml';
import type { Document } from 'yaml';
import type { z } from 'zod';
import { SCENARIO } from './scenario-shape.ts';
import type { Scenario } from './scenario-shape.ts';
import { brokenReferences } from './scenario-references.ts';
import type { Fault, Path } from './scenario-references.ts';

/** A scenario as it was read from disk; the name is for messages. */
export interface ScenarioDocument {
  readonly name: string;
  readonly text: string;
}

/** A scenario that cannot be loaded. One line for each fault: file, line, column, field, what is wanted. */
export class ScenarioError extends Error {
  override readonly name = 'ScenarioError';
}

/** Names and phones of guests do not belong in a log. */
const PRIVATE = new Set<string | number>(['guest', 'phone', 'phones', 'frontDeskPhone', 'dispatchNumber']);
const SHOWN_CHARACTERS = 40;

const fieldOf = (path: Path): string =>
  path.length === 0
    ? 'The file'
    : path.map((part, index) => (typeof part === 'number' ? `[${part}]` : index === 0 ? part : `.${part}`)).join('');

/** What stands at a path, where it may be shown. */
function shown(document: Document, path: Path): string {
  if (path.some((part) => PRIVATE.has(part))) return '';
  const value: unknown = document.getIn(path);
  if (typeof value !== 'string' && typeof value !== 'number' && typeof value !== 'boolean') return '';
  return `: ${JSON.stringify(value).slice(0, SHOWN_CHARACTERS)}`;
}

/** Offset in the text of the field or item at a path, or of the nearest one around it: a missing field has none. */
function offsetOf(document: Document, path: Path): number {
  for (let length = path.length; length > 0; length -= 1) {
    const around: unknown = document.getIn(path.slice(0, length - 1), true);
    const field = isMap(around) && around.items.find(({ key }) => isScalar(key) && key.value === path[length - 1]);
    const node: unknown = field ? field.key : document.getIn(path.slice(0, length), true);
    if (isNode(node) && node.range) return node.range[0];
  }
  return 0;
}

/** Faults of the shape; an unknown field is its own fault, at its own place. */
function shapeFaults(issues: readonly z.core.$ZodIssue[], document: Document): Fault[] {
  return issues.flatMap((issue) => {
    const path = issue.path.filter((part) => typeof part !== 'symbol');
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => ({
        path: [...path, key],
        message: 'is not a field here; remove it or correct its spelling.',
      }));
    }
    if (issue.code !== 'invalid_type') return [{ path, message: `${issue.message}.` }];
    const came: unknown = document.getIn(path);
    if (came === undefined) return [{ path, message: `is missing; add it (${issue.expected}).` }];
    const quotes = issue.expected === 'string' && !isNode(came) ? '; put it in quotes' : '';
    return [{ path, message: `must be of the kind ${issue.expected}${quotes}.` }];
  });
}

/**
 * Reads and checks a scenario.
 * @throws ScenarioError naming every fault with file, line and column.
 */
export function readScenario({ name, text }: ScenarioDocument): Scenario {
  const lineCounter = new LineCounter();
  const document = parseDocument(text, { lineCounter, prettyErrors: false });
  const at = (offset: number): string => {
    const { line, col } = lineCounter.linePos(offset);
    return `${name}:${line}:${col}`;
  };
  if (document.errors.length > 0) {
    throw new ScenarioError(
      document.errors.map((error) => `${at(error.pos[0])} is not YAML here: ${error.message}`).join('\n'),
    );
  }
  const checked = SCENARIO.safeParse(document.toJS());
  const faults = checked.success ? brokenReferences(checked.data) : shapeFaults(checked.error.issues, document);
  if (checked.success && faults.length === 0) return checked.data;
  throw new ScenarioError(
    faults
      .map(({ path, message }) => `${at(offsetOf(document, path))} ${fieldOf(path)}${shown(document, path)} ${message}`)
      .join('\n'),
  );
}
