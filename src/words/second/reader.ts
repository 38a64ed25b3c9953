import { existsSync, readFileSync } from 'node:fs';
import type { Reading } from '../reading.ts';
import { featuresOf, sentencesOf, wholeFeaturesOf, type Piece } from './features.ts';
import { HEAD_BYTES, headAt, headBytes, logOdds, type Head } from './head.ts';

/** What the second reader makes of a text: log odds that it is danger at this moment, and that it is danger at all. */
export interface Leaning {
  readonly now: number;
  readonly danger: number;
}

/** Log odds from which the second reader's word counts, chosen in training on texts it had not learned from. */
export interface Thresholds {
  /** to say `now` */
  readonly now: number;
  /** to say `ask` */
  readonly ask: number;
}

/** A second reader as a value: pure, the same reading gives the same leaning. */
export interface SecondReader {
  /** @param spans what the words heard, read by themselves too: what is said around them must not drown them */
  readonly read: (reading: Reading, spans: readonly Piece[]) => Leaning;
  readonly thresholds: Thresholds;
}

const HEADS = 2;
const THRESHOLDS = ['now', 'ask'] as const satisfies (keyof Thresholds)[];
const FILE_BYTES = THRESHOLDS.length * 4 + HEADS * HEAD_BYTES;

/** So many words on either side belong to what the words heard. */
const WORDS_AROUND = 2;
/** A piece torn from its text must lean so much further: what stood around it may have made it harmless. */
const TORN = { sentence: 1, span: 2 };

/** The leaning of a text, or of the piece of it that leans further still. */
export function readPieces(reading: Reading, now: Head, danger: Head, spans: readonly Piece[] = []): Leaning {
  const whole = wholeFeaturesOf(reading);
  const leaning = { now: logOdds(whole, now), danger: logOdds(whole, danger) };
  const { length } = reading.tokens;
  const heed = (piece: Piece, torn: number): void => {
    const features = featuresOf(reading, piece);
    leaning.now = Math.max(leaning.now, logOdds(features, now) - torn);
    leaning.danger = Math.max(leaning.danger, logOdds(features, danger) - torn);
  };
  for (const sentence of sentencesOf(reading)) heed(sentence, TORN.sentence);
  for (const { start, end } of spans) {
    heed({ start: Math.max(0, start - WORDS_AROUND), end: Math.min(length, end + WORDS_AROUND) }, TORN.span);
  }
  return leaning;
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
  const [now, ask] = THRESHOLDS.map((_, index) => bytes.readFloatLE(index * 4));
  const heads = THRESHOLDS.length * 4;
  return secondReaderOf(headAt(bytes, heads), headAt(bytes, heads + HEAD_BYTES), { now: now ?? 0, ask: ask ?? 0 });
}

/** The bytes of a second reader, as `loadSecondReader` reads them. */
export function bytesOf(now: Head, danger: Head, thresholds: Thresholds): Buffer {
  const chosen = Buffer.alloc(THRESHOLDS.length * 4);
  THRESHOLDS.forEach((name, index) => chosen.writeFloatLE(thresholds[name], index * 4));
  return Buffer.concat([chosen, headBytes(now), headBytes(danger)]);
}
