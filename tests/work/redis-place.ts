import { Redis } from 'ioredis';
import { afterAll } from 'vitest';
import { orFailInCi, whyNot } from '../servers.ts';

export const REDIS_URL = process.env['NIGHTBELL_TEST_REDIS_URL'] ?? 'redis://127.0.0.1:6379/7';

async function reasonWithoutRedis(): Promise<string | null> {
  const redis = new Redis(REDIS_URL, { lazyConnect: true, connectTimeout: 2000, retryStrategy: () => null });
  redis.on('error', () => {});
  try {
    await redis.connect();
    return null;
  } catch (error) {
    return `no Redis at ${new URL(REDIS_URL).host} (${whyNot(error)}); set NIGHTBELL_TEST_REDIS_URL to run these`;
  } finally {
    redis.disconnect();
  }
}

/** Why nothing can be tried on Redis here; null when it can. */
export const REDIS_MISSING = orFailInCi(await reasonWithoutRedis());

export interface RedisPart {
  /** In front of all its keys. */
  readonly prefix: string;
  readonly keys: () => Promise<string[]>;
  /** What a hash of it holds. */
  readonly valueOf: (key: string) => Promise<Record<string, string>>;
  readonly empty: () => Promise<void>;
}

/** A part of the test server's Redis that no other file of tests uses, emptied after it. */
export function redisPart(): RedisPart {
  const prefix = `nightbell-test-${process.pid}-${Math.random().toString(36).slice(2, 8)}`;
  const redis = new Redis(REDIS_URL, { lazyConnect: true });
  const keys = (): Promise<string[]> => redis.keys(`${prefix}:*`);
  const empty = async (): Promise<void> => {
    const all = await keys();
    if (all.length > 0) await redis.del(all);
  };
  afterAll(async () => {
    if (REDIS_MISSING === null) await empty();
    redis.disconnect();
  });
  return { prefix, keys, valueOf: (key) => redis.hgetall(key), empty };
}
