import type { AnswerKind } from './heard.ts';

/** An answer, and the tokens that gave it. */
export interface AnswerHeard {
  readonly answer: string | number;
  readonly spans: readonly { readonly start: number; readonly end: number }[];
}

/** The step's question a text is heard against. */
export interface Question {
  readonly asked: AnswerKind;
  readonly choices?: readonly string[] | undefined;
  readonly now?: string | undefined;
}
