import { existsSync, readFileSync } from 'node:fs';
import { TOPICS } from '../heard.ts';
import { TOPIC_BUCKETS, topicReaderOf, type TopicReader, type TopicWeights } from './topic-reader.ts';

const ROWS_AT = 4 + 4 * TOPICS.length;
const FILE_BYTES = ROWS_AT + TOPICS.length * TOPIC_BUCKETS;

/**
 * Loads trained weights; undefined where there are none.
 * @throws Error when the file has another size than this program writes
 */
export function loadTopicReader(path: string): TopicReader | undefined {
  if (!existsSync(path)) return undefined;
  const bytes = readFileSync(path);
  if (bytes.length !== FILE_BYTES) {
    throw new Error(`${path}: ${bytes.length} bytes, not ${FILE_BYTES}; train again: node src/words/second/train.ts`);
  }
  return topicReaderOf({
    scale: bytes.readFloatLE(0),
    biases: TOPICS.map((_, topic) => bytes.readFloatLE(4 + 4 * topic)),
    rows: new Int8Array(bytes.buffer, bytes.byteOffset + ROWS_AT, FILE_BYTES - ROWS_AT),
  });
}

/** The bytes of a topic reader, as `loadTopicReader` reads them. */
export function topicBytesOf({ scale, biases, rows }: TopicWeights): Buffer {
  const numbers = Buffer.alloc(ROWS_AT);
  numbers.writeFloatLE(scale, 0);
  biases.forEach((bias, topic) => numbers.writeFloatLE(bias, 4 + 4 * topic));
  return Buffer.concat([numbers, Buffer.from(rows.buffer, rows.byteOffset, rows.length)]);
}
