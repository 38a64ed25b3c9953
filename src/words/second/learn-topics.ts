import { TOPICS, type Topic } from '../heard.ts';
import type { Features } from './features.ts';
import { learn, loudness } from './learn.ts';
import { TOPIC_BUCKETS, topicRow, type TopicWeights } from './topic-reader.ts';

export interface TopicExample {
  readonly features: Features;
  readonly topic: Topic;
}

/** A topic has one text in twenty-six: those that are its own count more. */
const OWN_COUNTS = 2;
const LARGEST = 127;

/** A head for each topic, its own texts against all others. */
export function learnTopics(examples: readonly TopicExample[]): TopicWeights {
  const folded = examples.map(({ features: { buckets, shares }, topic }) => {
    return { features: { buckets: buckets.map((bucket) => bucket & (TOPIC_BUCKETS - 1)), shares }, topic };
  });
  const loud = loudness(folded);
  const heads = TOPICS.map((name) =>
    learn(
      folded.map(({ features, topic }) => {
        return { features, yes: topic === name, weight: topic === name ? OWN_COUNTS : 1 };
      }),
      loud,
    ),
  );
  // One scale for all, so that a text's sums are whole numbers added up.
  const largest = Math.max(...heads.map(({ scale, weights }) => scale * weights.reduce(farther, 0)));
  const scale = largest / LARGEST || 1;
  const rows = new Int8Array(TOPICS.length * TOPIC_BUCKETS);
  for (const [column, head] of heads.entries()) {
    for (let bucket = 0; bucket < TOPIC_BUCKETS; bucket += 1) {
      rows[topicRow(bucket) + column] = Math.round(((head.weights[bucket] ?? 0) * head.scale) / scale);
    }
  }
  return { scale, biases: heads.map(({ bias }) => bias), rows };
}

function farther(most: number, weight: number): number {
  return Math.max(most, Math.abs(weight));
}
