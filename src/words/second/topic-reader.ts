import { TOPICS, type Topic } from '../heard.ts';
import type { Reading } from '../reading.ts';
import { wholeFeaturesOf } from './features.ts';

/** Buckets of the topic reader; a power of two, far fewer than those of danger, since it holds a row for each topic. */
export const TOPIC_BUCKETS = 1 << 14;

/** Which matter a text is about, by resemblance: a log likelihood for each topic, in the order of `TOPICS`. */
export type TopicReader = (reading: Reading) => readonly number[];

/** Weights of all topics: rows of whole numbers from -127 to 127, times `scale`. */
export interface TopicWeights {
  readonly scale: number;
  readonly rows: Int8Array;
}

/** A text's features, folded into the topic reader's buckets. */
export function topicFeaturesOf(reading: Reading): Uint32Array {
  return Uint32Array.from(new Set(Array.from(wholeFeaturesOf(reading), (bucket) => bucket & (TOPIC_BUCKETS - 1))));
}

/** The sums of all topics, before they are made likelihoods; longer texts weigh each feature less. */
export function sumsOf(features: Uint32Array, weights: ArrayLike<number>): number[] {
  const share = 1 / Math.sqrt(features.length || 1);
  return TOPICS.map((_, row) => {
    let sum = 0;
    for (const bucket of features) sum += (weights[row * TOPIC_BUCKETS + bucket] ?? 0) * share;
    return sum;
  });
}

/** Log likelihoods of sums (softmax). */
export function logLikelihoods(sums: readonly number[]): number[] {
  const most = Math.max(...sums);
  const total = Math.log(sums.reduce((all, sum) => all + Math.exp(sum - most), 0));
  return sums.map((sum) => sum - most - total);
}

export function topicReaderOf({ scale, rows }: TopicWeights): TopicReader {
  return (reading) => logLikelihoods(sumsOf(topicFeaturesOf(reading), rows).map((sum) => sum * scale));
}

/**
 * How much the words' own finding of a topic counts beside the reader's log likelihood, chosen by cross-validation on
 * texts that neither had seen: words alone 74%, the reader alone 80 to 82%, both 85 to 86%.
 */
const WORDS_COUNT = 1;
/** Where the words say nothing, resemblance must be this likely to say something. */
const LIKELY_ENOUGH = Math.log(0.2);

/** The topic that words and resemblance together say. */
export function topicOfBoth(byWords: Topic, likelihoods: readonly number[]): Topic {
  let best: Topic = byWords;
  let most = byWords === 'unclear' ? LIKELY_ENOUGH : -Infinity;
  for (const [row, topic] of TOPICS.entries()) {
    const said = topic === byWords && byWords !== 'unclear' ? WORDS_COUNT : 0;
    const score = (likelihoods[row] ?? -Infinity) + said;
    if (score > most) [best, most] = [topic, score];
  }
  return best;
}
