import { TOPICS, type Topic } from '../heard.ts';
import { seeded, shuffle } from './chance.ts';
import type { Features } from './features.ts';
import { logLikelihoods, sumsOf, TOPIC_BUCKETS, topicRow, type TopicWeights } from './topic-reader.ts';

export interface TopicExample {
  readonly features: Features;
  readonly topic: Topic;
}

const PASSES = 40;
const STEP = 0.15;
/** Pulls weights toward none: a word seen twice must not decide. */
const RESTRAINT = 0.001;

/** Multinomial logistic regression by stochastic gradient (Adagrad), in a fixed pseudo-random order. */
export function learnTopics(examples: readonly TopicExample[]): TopicWeights {
  const weights = new Float64Array(TOPICS.length * TOPIC_BUCKETS);
  const moved = new Float64Array(weights.length);
  const order = examples.map((_, index) => index);
  const random = seeded(12_345);
  for (let pass = 0; pass < PASSES; pass += 1) {
    shuffle(order, random);
    for (const index of order) {
      const example = examples[index];
      if (example !== undefined) step(example, weights, moved);
    }
  }
  let largest = 0;
  for (const weight of weights) largest = Math.max(largest, Math.abs(weight));
  const scale = largest / 127 || 1;
  return { scale, rows: Int8Array.from(weights, (weight) => Math.round(weight / scale)) };
}

function step({ features, topic }: TopicExample, weights: Float64Array, moved: Float64Array): void {
  const { buckets, shares } = features;
  const likelihoods = logLikelihoods(sumsOf(features, weights));
  for (const [column, name] of TOPICS.entries()) {
    const error = Math.exp(likelihoods[column] ?? -Infinity) - (name === topic ? 1 : 0);
    if (Math.abs(error) < 0.001) continue;
    for (const [index, bucket] of buckets.entries()) {
      const at = topicRow(bucket) + column;
      const known = weights[at] ?? 0;
      const slope = error * (shares[index] ?? 0) + RESTRAINT * known;
      const travelled = (moved[at] ?? 0) + slope * slope;
      moved[at] = travelled;
      weights[at] = known - (STEP * slope) / Math.sqrt(travelled + 0.001);
    }
  }
}
