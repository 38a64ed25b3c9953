import { BUCKETS, type Features } from './features.ts';

/** One question's weights: a whole number for each bucket, times `scale`. */
export interface Head {
  readonly scale: number;
  readonly bias: number;
  readonly weights: Int16Array;
}

const LARGEST = 32_767;
const NUMBERS_BYTES = 8;

/** The bytes of a head in a file. */
export const HEAD_BYTES = NUMBERS_BYTES + BUCKETS * 2;

/** Log odds of one head: a logistic regression over the features present. */
export function logOdds({ buckets, shares }: Features, { scale, bias, weights }: Head): number {
  let sum = 0;
  for (let at = 0; at < buckets.length; at += 1) sum += (weights[buckets[at] ?? 0] ?? 0) * (shares[at] ?? 0);
  return bias + sum * scale;
}

/** A head of learned weights, with how loud each bucket speaks worked into them; the bias stands behind the buckets. */
export function quantised(learned: Float64Array, loud: Float64Array): Head {
  const weights = loud.map((times, bucket) => times * (learned[bucket] ?? 0));
  let largest = 0;
  for (const weight of weights) largest = Math.max(largest, Math.abs(weight));
  const scale = largest / LARGEST || 1;
  const bias = learned[BUCKETS] ?? 0;
  return { scale, bias, weights: Int16Array.from(weights, (weight) => Math.round(weight / scale)) };
}

export function headBytes({ scale, bias, weights }: Head): Buffer {
  const numbers = Buffer.alloc(NUMBERS_BYTES);
  numbers.writeFloatLE(scale, 0);
  numbers.writeFloatLE(bias, 4);
  return Buffer.concat([numbers, Buffer.from(weights.buffer, weights.byteOffset, weights.byteLength)]);
}

/** The head that begins at `start`, a multiple of four. */
export function headAt(bytes: Buffer, start: number): Head {
  return {
    scale: bytes.readFloatLE(start),
    bias: bytes.readFloatLE(start + 4),
    weights: new Int16Array(bytes.buffer, bytes.byteOffset + start + NUMBERS_BYTES, BUCKETS),
  };
}
