import { existsSync, readFileSync } from 'node:fs';
import { TOPICS } from '../heard.ts';
import { TOPIC_BUCKETS, topicReaderOf, type TopicReader, type TopicWeights } from './topic-reader.ts';

const FILE_BYTES = 4 + TOPICS.length * TOPIC_BUCKETS;

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
    rows: new Int8Array(bytes.buffer, bytes.byteOffset + 4, FILE_BYTES - 4),
  });
}

/** The bytes of a topic reader, as `loadTopicReader` reads them. */
export function topicBytesOf({ scale, rows }: TopicWeights): Buffer {
  const head = Buffer.alloc(4);
  head.writeFloatLE(scale, 0);
  return Buffer.concat([head, Buffer.from(rows.buffer, rows.byteOffset, rows.length)]);
}
