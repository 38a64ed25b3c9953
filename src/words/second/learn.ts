import { seeded, shuffle } from './chance.ts';
import { BUCKETS } from './features.ts';
import type { Head } from './reader.ts';

/** One text to learn from. */
export interface Example {
  readonly features: Uint32Array;
  /** the right answer to the head's question */
  readonly yes: boolean;
  /** how much it counts; a guest's text counts 1 */
  readonly weight: number;
}

const PASSES = 12;
const STEP = 0.3;
/** Pulls weights toward none: a word seen twice must not decide. */
const RESTRAINT = 0.001;
/** A missed danger costs more than a false alarm. */
const YES_COUNTS = 2;

/**
 * Logistic regression by stochastic gradient, steps shrinking per bucket (Adagrad), in a fixed pseudo-random order:
 * the same examples give the same head.
 */
export function learn(examples: readonly Example[]): Head {
  const weights = new Float64Array(BUCKETS);
  const moved = new Float64Array(BUCKETS);
  let bias = 0;
  let biasMoved = 0;
  const order = examples.map((_, index) => index);
  const random = seeded(12_345);
  for (let pass = 0; pass < PASSES; pass += 1) {
    shuffle(order, random);
    for (const index of order) {
      const example = examples[index];
      if (example === undefined) continue;
      const { features, yes, weight } = example;
      const share = 1 / Math.sqrt(features.length || 1);
      let sum = bias;
      for (const bucket of features) sum += (weights[bucket] ?? 0) * share;
      const error = (1 / (1 + Math.exp(-sum)) - (yes ? 1 : 0)) * weight * (yes ? YES_COUNTS : 1);
      biasMoved += error * error;
      bias -= (STEP * error) / Math.sqrt(biasMoved + 1);
      for (const bucket of features) {
        const known = weights[bucket] ?? 0;
        const slope = error * share + RESTRAINT * known;
        const travelled = (moved[bucket] ?? 0) + slope * slope;
        moved[bucket] = travelled;
        weights[bucket] = known - (STEP * slope) / Math.sqrt(travelled + 0.001);
      }
    }
  }
  return quantised(weights, bias);
}

function quantised(weights: Float64Array, bias: number): Head {
  let largest = 0;
  for (const weight of weights) largest = Math.max(largest, Math.abs(weight));
  const scale = largest / 127 || 1;
  return { scale, bias, weights: Int8Array.from(weights, (weight) => Math.round(weight / scale)) };
}
