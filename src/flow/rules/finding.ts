import type { Flows } from '../turn.ts';
import type { Passage } from '../walk.ts';
import type { ReadFlowBook } from '../placed-book.ts';

/** A way in which the flows could hurt or strand someone, with the texts that lead there. */
export interface Finding {
  readonly rule: string;
  /** Full name of the step, or the file, that is to be mended. */
  readonly where: string;
  readonly message: string;
  /** What a guest says to come there; empty where the words alone are wrong. */
  readonly path: readonly string[];
}

/** Looks at one passage of the walk. */
export type PassageRule = (passage: Passage, flows: Flows) => readonly Finding[];

/** Looks at what is written, without a walk. */
export type WordingRule = (read: ReadFlowBook, flows: Flows) => readonly Finding[];

/** Looks at a whole walk, passage by passage, and says at its end what it found. */
export interface WalkRule {
  see(passage: Passage): void;
  findings(): readonly Finding[];
}

export function findingAt(rule: string, { from, move, turn }: Passage, message: string): Finding {
  return { rule, where: turn.step, message, path: [...from.path, move.said] };
}
