import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { LANGUAGES } from '../../words/heard.ts';
import type { Language } from '../../words/heard.ts';

/** Labelled texts of guests, as `fixtures/messages/` keeps them: what was written, and what a careful reader makes of it. */

const lineSchema = z.object({
  id: z.string(),
  text: z.string(),
  asked: z.string().optional(),
  choices: z.array(z.coerce.string()).optional(),
  now: z.string().optional(),
  expect: z.object({
    danger: z.enum(['now', 'ask', 'none']),
    topic: z.string().nullable(),
    answer: z.union([z.string(), z.number()]).nullable(),
  }),
});
export type LabelledText = z.infer<typeof lineSchema>;

const MESSAGES = join(import.meta.dirname, '../../../fixtures/messages');

function read(lang: Language): readonly LabelledText[] {
  const file = join(MESSAGES, lang, 'kept-aside.jsonl');
  return readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => lineSchema.parse(JSON.parse(line)));
}

/** The texts by what they say, for guests to draw their words from. */
export interface Phrasebook {
  /** Openings of a topic in which nothing is dangerous. */
  openings(topic: string): readonly string[];
  /** Answers of a kind, without anything else in them. */
  answers(kind: string, value: string): readonly string[];
  readonly dangers: readonly string[];
  /** Talk about something else, for guests who change the subject. */
  readonly besides: readonly string[];
}

function phrasebook(lines: readonly LabelledText[]): Phrasebook {
  const calm = lines.filter(({ expect }) => expect.danger === 'none');
  const texts = (fit: (line: LabelledText) => boolean): readonly string[] => calm.filter(fit).map(({ text }) => text);
  // A menu reply ("the second one") means something only beside its own menu, and "since ten" only at its own hour.
  const plain = ({ choices, now }: LabelledText): boolean => choices === undefined && now === undefined;
  return {
    openings: (topic) => texts((line) => line.asked === undefined && line.expect.topic === topic),
    answers: (kind, value) =>
      texts((line) => line.asked === kind && String(line.expect.answer) === value && plain(line)),
    dangers: lines
      .filter(({ expect, asked }) => expect.danger === 'now' && asked === undefined)
      .map(({ text }) => text),
    besides: texts((line) => line.asked === undefined && line.expect.topic === null),
  };
}

/** The kept-aside texts of each language: written without sight of the words the desk listens for. */
export function loadPhrasebooks(): Readonly<Record<Language, Phrasebook>> {
  return Object.fromEntries(LANGUAGES.map((lang) => [lang, phrasebook(read(lang))])) as Record<Language, Phrasebook>;
}
