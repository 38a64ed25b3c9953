import { existsSync, readFileSync } from 'node:fs';
import type { Reading } from '../reading.ts';
import { BUCKETS, featuresOf, piecesOf, wholeFeaturesOf, type Piece } from './features.ts';

/** What the second reader makes of a text: how likely it is danger at this moment, and danger at all; 0 to 1. */
export interface Likelihood {
  readonly now: number;
  readonly danger: number;
}

/** Likelihoods from which the second reader's word counts, chosen in training on texts it had not learned from. */
export interface Thresholds {
  /** to say `now` where the words say nothing, something to ask about, or likely `now` */
  readonly now: number;
  readonly nowAfterAsk: number;
  readonly nowAfterLikely: number;
  /** to say `ask` where the words say nothing, or maybe */
  readonly ask: number;
  readonly askAfterMaybe: number;
}

/** A second reader as a value: pure, the same reading gives the same likelihoods. */
export interface SecondReader {
  /** @param spans what the words heard, read by themselves too: what is said around them must not drown them */
  readonly read: (reading: Reading, spans: readonly Piece[]) => Likelihood;
  readonly thresholds: Thresholds;
}

/** One question's weights: a whole number from -127 to 127 for each bucket, times `scale`. */
export interface Head {
  readonly scale: number;
  readonly bias: number;
  readonly weights: Int8Array;
}

const HEADS = 2;
const HEAD_BYTES = 8 + BUCKETS;
const THRESHOLDS = [
  'now',
  'nowAfterAsk',
  'nowAfterLikely',
  'ask',
  'askAfterMaybe',
] as const satisfies (keyof Thresholds)[];
const FILE_BYTES = THRESHOLDS.length * 4 + HEADS * HEAD_BYTES;

/** Likelihood of one head: a logistic regression over the features present, longer texts weighing each feature less. */
export function likelihood(features: Uint32Array, { scale, bias, weights }: Head): number {
  let sum = 0;
  for (const bucket of features) sum += weights[bucket] ?? 0;
  return 1 / (1 + Math.exp(-(bias + (sum * scale) / Math.sqrt(features.length || 1))));
}

/** So many words on either side belong to what the words heard. */
const WORDS_AROUND = 2;

/** The likelihoods of the piece of a text where each is highest. */
export function readPieces(reading: Reading, now: Head, danger: Head, spans: readonly Piece[] = []): Likelihood {
  let [most, mostDanger] = [0, 0];
  const { length } = reading.tokens;
  const around = spans.map(({ start, end }) => ({
    start: Math.max(0, start - WORDS_AROUND),
    end: Math.min(length, end + WORDS_AROUND),
  }));
  for (const piece of [...piecesOf(reading), ...around]) {
    const whole = piece.start === 0 && piece.end === reading.tokens.length;
    const features = whole ? wholeFeaturesOf(reading) : featuresOf(reading, piece);
    most = Math.max(most, likelihood(features, now));
    mostDanger = Math.max(mostDanger, likelihood(features, danger));
  }
  return { now: most, danger: mostDanger };
}

/** Makes a second reader of its two heads. */
export function secondReaderOf(now: Head, danger: Head, thresholds: Thresholds): SecondReader {
  return {
    thresholds,
    read: (reading, spans) => readPieces(reading, now, danger, spans),
  };
}

/**
 * Loads trained weights; undefined where there are none (a language not trained for yet, another words folder).
 * @throws Error when the file has another size than this program writes
 */
export function loadSecondReader(path: string): SecondReader | undefined {
  if (!existsSync(path)) return undefined;
  const bytes = readFileSync(path);
  if (bytes.length !== FILE_BYTES) {
    throw new Error(`${path}: ${bytes.length} bytes, not ${FILE_BYTES}; train again: node src/words/second/train.ts`);
  }
  const thresholds = Object.fromEntries(
    THRESHOLDS.map((name, index) => [name, bytes.readFloatLE(index * 4)]),
  ) as unknown as Thresholds;
  const heads = THRESHOLDS.length * 4;
  return secondReaderOf(headAt(bytes, heads), headAt(bytes, heads + HEAD_BYTES), thresholds);
}

function headAt(bytes: Buffer, start: number): Head {
  return {
    scale: bytes.readFloatLE(start),
    bias: bytes.readFloatLE(start + 4),
    weights: new Int8Array(bytes.buffer, bytes.byteOffset + start + 8, BUCKETS),
  };
}

/** The bytes of a second reader, as `loadSecondReader` reads them. */
export function bytesOf(now: Head, danger: Head, thresholds: Thresholds): Buffer {
  const chosen = Buffer.alloc(THRESHOLDS.length * 4);
  THRESHOLDS.forEach((name, index) => chosen.writeFloatLE(thresholds[name], index * 4));
  const heads = [now, danger].flatMap(({ scale, bias, weights }) => {
    const numbers = Buffer.alloc(8);
    numbers.writeFloatLE(scale, 0);
    numbers.writeFloatLE(bias, 4);
    return [numbers, Buffer.from(weights.buffer, weights.byteOffset, weights.length)];
  });
  return Buffer.concat([chosen, ...heads]);
}
