import { Redis } from 'ioredis';
import { Client } from 'pg';

/** The servers that several processes share in a trial: those that are set, or those of this machine. */
const POSTGRES = process.env['DATABASE_URL'] ?? 'postgres://postgres@127.0.0.1:5432/postgres';
const REDIS = process.env['REDIS_URL'] ?? 'redis://127.0.0.1:6379';
const CONNECT_WITHIN_MS = 2_000;

async function onServer(statement: string): Promise<void> {
  const client = new Client({ connectionString: POSTGRES, connectionTimeoutMillis: CONNECT_WITHIN_MS });
  await client.connect();
  try {
    await client.query(statement);
  } finally {
    await client.end();
  }
}

/** Removes what a desk left under a prefix; other keys on the server stay. */
async function clearRedis(prefix: string): Promise<void> {
  const redis = new Redis(REDIS);
  try {
    const keys = await redis.keys(`${prefix}*`);
    if (keys.length > 0) await redis.del(...keys);
  } finally {
    redis.disconnect();
  }
}

/** Why several processes cannot be tried here; null when they can. */
export async function whyNoServers(): Promise<string | null> {
  try {
    await onServer('select 1');
  } catch {
    return `no Postgres at ${new URL(POSTGRES).host}; set DATABASE_URL`;
  }
  const redis = new Redis(REDIS, { lazyConnect: true, connectTimeout: CONNECT_WITHIN_MS, retryStrategy: null });
  try {
    await redis.connect();
    return null;
  } catch {
    return `no Redis at ${new URL(REDIS).host}; set REDIS_URL`;
  } finally {
    redis.disconnect();
  }
}

/** A database and a part of Redis that one trial has for itself. */
export interface SharedPlace {
  readonly postgresUrl: string;
  /** As several processes of the desk are given it. */
  readonly environment: Readonly<Record<string, string>>;
  /** Takes everything out of its part of Redis. */
  readonly emptyRedis: () => Promise<void>;
  readonly remove: () => Promise<void>;
}

/** Makes an empty one. @throws what the servers say when they cannot be had */
export async function sharedPlace(name: string): Promise<SharedPlace> {
  const unique = `nightbell_${name}_${process.pid}`;
  const url = new URL(POSTGRES);
  url.pathname = `/${unique}`;
  await onServer(`create database ${unique}`);
  return {
    postgresUrl: url.href,
    // The port that tells of metrics is also how a process without a web side says that it is up.
    environment: { DATABASE_URL: url.href, REDIS_URL: REDIS, REDIS_PREFIX: unique, OPERATIONS_PORT: '0' },
    emptyRedis: () => clearRedis(unique),
    async remove() {
      await onServer(`drop database if exists ${unique} with (force)`);
      await clearRedis(unique);
    },
  };
}
