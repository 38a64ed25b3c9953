import { TOPICS, type Topic } from '../heard.ts';
import { seeded, shuffle } from './chance.ts';
import { logLikelihoods, sumsOf, TOPIC_BUCKETS, type TopicWeights } from './topic-reader.ts';

export interface TopicExample {
  readonly features: Uint32Array;
  readonly topic: Topic;
}

const PASSES = 25;
const STEP = 0.5;
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
  const share = 1 / Math.sqrt(features.length || 1);
  const likelihoods = logLikelihoods(sumsOf(features, weights));
  for (const [row, name] of TOPICS.entries()) {
    const error = Math.exp(likelihoods[row] ?? -Infinity) - (name === topic ? 1 : 0);
    if (Math.abs(error) < 0.001) continue;
    for (const bucket of features) {
      const at = row * TOPIC_BUCKETS + bucket;
      const known = weights[at] ?? 0;
      const slope = error * share + RESTRAINT * known;
      const travelled = (moved[at] ?? 0) + slope * slope;
      moved[at] = travelled;
      weights[at] = known - (STEP * slope) / Math.sqrt(travelled + 0.001);
    }
  }
}
