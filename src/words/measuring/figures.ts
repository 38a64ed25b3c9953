import type { Hear, Heard } from '../heard.ts';
import type { Labelled } from './labelled.ts';

/** A figure of the table: how many of how many, and the goal its share is held to. */
export interface Figure {
  readonly name: string;
  readonly hits: number;
  readonly of: number;
  /** share, 0 to 1; absent where a figure is shown and not judged */
  readonly goal?: { readonly atLeast: number } | { readonly atMost: number };
}

/** A text with what was heard in it. */
export interface Listened {
  readonly text: Labelled;
  readonly heard: Heard;
}

/** Hears every text as the desk would, its language not told. */
export function listenTo(texts: readonly Labelled[], hear: Hear): Listened[] {
  return texts.map((text) => ({
    text,
    heard: hear(text.text, { asked: text.asked, choices: text.choices?.map(String), now: text.now }),
  }));
}

export const isTopical = ({ text }: Listened): boolean =>
  text.asked === undefined && text.expect.danger === 'none' && text.expect.topic !== null;
export const isAsked = ({ text }: Listened): boolean => text.asked !== undefined && text.expect.answer !== null;
export const topicRight = ({ text, heard }: Listened): boolean => heard.topic === text.expect.topic;
export const answerRight = ({ text, heard }: Listened): boolean => String(heard.answer) === String(text.expect.answer);

/** The goals' figures over a set of texts. */
export function goalFigures(all: readonly Listened[]): Figure[] {
  const labelled = (danger: string): Listened[] => all.filter(({ text }) => text.expect.danger === danger);
  const share = (
    name: string,
    of: readonly Listened[],
    hit: (one: Listened) => boolean,
    goal: Figure['goal'],
  ): Figure => ({
    name,
    hits: of.filter(hit).length,
    of: of.length,
    ...(goal === undefined ? {} : { goal }),
  });
  const heardAs =
    (...dangers: string[]) =>
    ({ heard }: Listened): boolean =>
      dangers.includes(heard.danger);
  return [
    share('now heard as now', labelled('now'), heardAs('now'), { atLeast: 0.99 }),
    share('now heard as now or ask', labelled('now'), heardAs('now', 'ask'), { atLeast: 1 }),
    share('ask heard as ask or now', labelled('ask'), heardAs('ask', 'now'), { atLeast: 0.98 }),
    share('none heard as now', labelled('none'), heardAs('now'), { atMost: 0.01 }),
    share('none heard as ask', labelled('none'), heardAs('ask'), { atMost: 0.06 }),
    share('topic of opening texts', all.filter(isTopical), topicRight, { atLeast: 0.92 }),
    share('answers', all.filter(isAsked), answerRight, { atLeast: 0.95 }),
    share('language', all, ({ text, heard }) => heard.lang === text.lang, undefined),
  ];
}

/** For each sign labelled `now` or `ask`: how many of its texts were heard as danger at all. */
export function signFigures(all: readonly Listened[]): Figure[] {
  const signs = [...new Set(all.flatMap(({ text }) => text.expect.signs))].toSorted();
  return signs.flatMap((sign) =>
    (['now', 'ask'] as const).flatMap((danger) => {
      const of = all.filter(({ text }) => text.expect.danger === danger && text.expect.signs.includes(sign));
      const hits = of.filter(({ heard }) => heard.danger === 'now' || (danger === 'ask' && heard.danger === 'ask'));
      return of.length === 0 ? [] : [{ name: `${sign} (${danger})`, hits: hits.length, of: of.length }];
    }),
  );
}

/** Topics one by one, and answers kind by kind. */
export function topicAndAnswerFigures(all: readonly Listened[]): Figure[] {
  const by = (of: readonly Listened[], name: (one: Listened) => string, right: (one: Listened) => boolean): Figure[] =>
    [...new Set(of.map(name))].toSorted().map((group) => {
      const members = of.filter((one) => name(one) === group);
      return { name: group, hits: members.filter(right).length, of: members.length };
    });
  return [
    ...by(all.filter(isTopical), ({ text }) => String(text.expect.topic).slice(0, 29), topicRight),
    ...by(all.filter(isAsked), ({ text }) => `answer: ${text.asked}`, answerRight),
  ];
}

/** True where a figure has no goal, no texts, or meets its goal. */
export function meetsGoal({ hits, of, goal }: Figure): boolean {
  if (goal === undefined || of === 0) return true;
  return 'atLeast' in goal ? hits / of >= goal.atLeast : hits / of <= goal.atMost;
}
