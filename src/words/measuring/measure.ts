import { join } from 'node:path';
import { LANGUAGES, type Hear } from '../heard.ts';
import {
  answerRight,
  goalFigures,
  isAsked,
  isTopical,
  listenTo,
  meetsGoal,
  signFigures,
  topicAndAnswerFigures,
  topicRight,
  type Listened,
} from './figures.ts';
import { readSet } from './labelled.ts';
import { falseAlarms, ordinaryEnglish } from './ordinary.ts';
import { tableOf } from './table.ts';

/** Texts kept aside for measuring are never listed: whoever reads them starts to tune to them. */
const KEPT_ASIDE = 'kept-aside';

/**
 * Measures hearing on one set of labelled messages per language, and false alarms on ordinary English.
 *
 * @param fixtures  holds a folder per language with `<set>.jsonl`, and what was added to the set later
 * @param misses    also lists the texts heard wrongly; refused for the texts kept aside
 * @throws Error when misses of the kept-aside texts are asked for, or a file is missing or malformed
 */
export function measureSet(
  fixtures: string,
  set: string,
  misses: boolean,
  hear: Hear,
): { report: string; met: boolean } {
  if (misses && set.startsWith(KEPT_ASIDE)) {
    throw new Error('--misses is refused for the kept-aside texts: they measure only while nobody tunes to them');
  }
  const parts: string[] = [];
  let met = true;
  let texts = 0;
  let milliseconds = 0;
  for (const language of LANGUAGES) {
    const labelled = readSet(join(fixtures, language), set);
    const began = performance.now();
    const listened = listenTo(labelled, hear);
    milliseconds += performance.now() - began;
    texts += labelled.length;
    const goals = goalFigures(listened);
    met &&= goals.every(meetsGoal);
    parts.push(tableOf(`${language}, ${set}: ${labelled.length} texts`, goals));
    parts.push(tableOf(`${language}: now heard as now, ask heard as ask or now, by sign`, signFigures(listened)));
    parts.push(tableOf(`${language}: by topic and answer kind`, topicAndAnswerFigures(listened)));
    if (misses) parts.push(missesOf(listened));
  }
  const alarms = falseAlarms(ordinaryEnglish('measuring'), hear);
  met &&= meetsGoal(alarms);
  parts.push(tableOf('ordinary English of a text corpus', [alarms]));
  parts.push(`speed: ${Math.round((texts / milliseconds) * 1000)} texts a second, one core`);
  parts.push(
    `longest texts: ${slowestOfLong(hear).toFixed(1)} ms for the worst of ${LONG_TEXTS.length}, 1,600 characters each`,
  );
  return { report: parts.join('\n\n'), met };
}

/** Texts made to cost much: phrases that begin everywhere, denials of denials, numbers, spelling that fits nothing. */
const LONG_TEXTS = [
  'he is not ',
  'blue lips ',
  'no puede no ',
  '1 2 3 and a half to ',
  'xqzjk ',
  'a',
  'she is not not breathing, no wait, six, ',
].map((part) => part.repeat(1600).slice(0, 1600));

/** Milliseconds for the worst of them, the median of five tries each. */
function slowestOfLong(hear: Hear): number {
  const medians = LONG_TEXTS.map((text) => {
    const tries = Array.from({ length: 5 }, () => {
      const began = performance.now();
      hear(text);
      return performance.now() - began;
    });
    return tries.toSorted((a, b) => a - b)[2] ?? 0;
  });
  return Math.max(...medians);
}

function missesOf(listened: readonly Listened[]): string {
  const lines = listened.flatMap((one) => {
    const { text, heard } = one;
    const wrong = [
      text.expect.danger === heard.danger ? '' : `${text.expect.danger} heard as ${heard.danger}`,
      isTopical(one) && !topicRight(one) ? `topic ${text.expect.topic} heard as ${heard.topic}` : '',
      isAsked(one) && !answerRight(one) ? `answer ${text.expect.answer} heard as ${heard.answer}` : '',
    ].filter((part) => part !== '');
    return wrong.length === 0
      ? []
      : [`  ${text.id}  ${wrong.join('; ')}\n    ${text.text}\n    why: ${heard.why.join(' | ')}`];
  });
  return ['misses', ...lines].join('\n');
}
