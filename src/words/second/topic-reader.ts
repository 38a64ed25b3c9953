import { TOPICS, type Topic } from '../heard.ts';
import type { Reading } from '../reading.ts';
import { wholeFeaturesOf, type Features } from './features.ts';

/** Buckets of the topic reader; a power of two, far fewer than those of danger, since each holds a row of topics. */
export const TOPIC_BUCKETS = 1 << 15;

/**
 * Which matter a text is about, by resemblance. Openings that nothing had learned from it hears better than the words
 * do, and their finding added to it changed nothing (measured in Spanish): it decides alone where it is asked.
 */
export type TopicReader = (reading: Reading) => Topic;

/** Weights of all topics: for each bucket a row of whole numbers from -127 to 127, times `scale`; a bias each. */
export interface TopicWeights {
  readonly scale: number;
  readonly biases: readonly number[];
  readonly rows: Int8Array;
}

/** Where a bucket's weights begin: a topic each, side by side. */
export function topicRow(bucket: number): number {
  return (bucket & (TOPIC_BUCKETS - 1)) * TOPICS.length;
}

/** Log odds of each topic against all others, in the order of `TOPICS`. */
export function topicOdds({ buckets, shares }: Features, { scale, biases, rows }: TopicWeights): Float64Array {
  const sums = new Float64Array(TOPICS.length);
  for (let at = 0; at < buckets.length; at += 1) {
    const row = topicRow(buckets[at] ?? 0);
    const share = shares[at] ?? 0;
    for (let topic = 0; topic < sums.length; topic += 1) sums[topic]! += rows[row + topic]! * share;
  }
  return sums.map((sum, topic) => sum * scale + (biases[topic] ?? 0));
}

export function topicReaderOf(weights: TopicWeights): TopicReader {
  return (reading) => {
    const odds = topicOdds(wholeFeaturesOf(reading), weights);
    return TOPICS[odds.indexOf(Math.max(...odds))] ?? 'unclear';
  };
}
