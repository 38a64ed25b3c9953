import { Redis } from 'ioredis';

type Note = (event: string, details: Readonly<Record<string, unknown>>) => void;

/** A connection that fails at once while Redis is away, so that nobody waits for it. It connects again by itself. */
export function redisToAsk(redisUrl: string, note: Note): Redis {
  return listened(new Redis(redisUrl, { enableOfflineQueue: false, maxRetriesPerRequest: 0 }), note);
}

/** A connection that waits for jobs, for as long as it takes. */
export function redisToWait(redisUrl: string, note: Note): Redis {
  return listened(new Redis(redisUrl, { maxRetriesPerRequest: null }), note);
}

/** An error event that nobody listens to would end the process. Each loss is noted once, not each try to come back. */
function listened(redis: Redis, note: Note): Redis {
  let lost = false;
  redis.on('error', (error: unknown) => {
    if (!lost) note('Redis is away; work is done straight from the table until it is back', { error });
    lost = true;
  });
  redis.on('ready', () => {
    if (lost) note('Redis is back', {});
    lost = false;
  });
  return redis;
}
