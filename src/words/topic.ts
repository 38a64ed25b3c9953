import type { Topic } from './heard.ts';
import { standingOf } from './context.ts';
import type { Found, Reading } from './reading.ts';

/** The matter a text opens, and the tokens that said so. */
export interface TopicHeard {
  readonly topic: Topic;
  readonly spans: readonly { readonly start: number; readonly end: number }[];
}

/** A phrase of a topic counts by the words it takes; a phrase marked `strong` counts more, a `weak` one hardly. */
const WORTH: Readonly<Record<string, number>> = { strong: 6, '': 3, weak: 1 };

/** The topic with most said for it; of two equal, the one named first. `unclear` when nothing was said for any. */
export function hearTopic(reading: Reading): TopicHeard {
  const scores = new Map<Topic, { score: number; spans: Found[] }>();
  for (const found of reading.found) {
    if (found.section !== 'topics') continue;
    const topic = found.name as Topic;
    const { denied } = standingOf(found, reading);
    const worth = ((WORTH[found.detail] ?? 3) + Math.min(found.end - found.start, 6) / 4) * (denied ? 0.3 : 1);
    const known = scores.get(topic) ?? { score: 0, spans: [] };
    const overlapping = known.spans.some((span) => span.start < found.end && found.start < span.end);
    // Two phrases over the same words are said once: the better one counts.
    known.score = overlapping ? Math.max(known.score, worth) : known.score + worth;
    known.spans.push(found);
    scores.set(topic, known);
  }
  let best: TopicHeard = { topic: 'unclear', spans: [] };
  let most = 0;
  for (const [topic, { score, spans }] of scores) {
    if (score > most) {
      most = score;
      best = { topic, spans };
    }
  }
  return best;
}
