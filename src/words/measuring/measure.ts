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
import { readLabelled } from './labelled.ts';
import { falseAlarms, ordinaryEnglish } from './ordinary.ts';
import { tableOf } from './table.ts';

/** Texts kept aside for measuring are never listed: whoever reads them starts to tune to them. */
const KEPT_ASIDE = 'kept-aside';

/**
 * Measures hearing on one set of labelled messages per language, and false alarms on ordinary English.
 *
 * @param fixtures  holds a folder per language with `<set>.jsonl`
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
    const labelled = readLabelled(join(fixtures, language, `${set}.jsonl`));
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
  return { report: parts.join('\n\n'), met };
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
