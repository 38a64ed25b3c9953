import { setTimeout as pause } from 'node:timers/promises';
import type { RequestListener, ServerResponse } from 'node:http';
import type { Watch } from './watch.ts';

export interface OperationsParts {
  readonly watch: Pick<Watch, 'metrics'>;
  /** Resolved when the records can be read. */
  readonly lookAtRecords: () => Promise<unknown>;
  /** Null where no Redis is used. */
  readonly redisReady: () => boolean | null;
  /** Whether the process is about to end: it finishes what it has and should be given nothing new. */
  readonly stopping: () => boolean;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

const RECORDS_ANSWER_WITHIN_MS = 2_000;
const PLAIN = 'text/plain; charset=utf-8';

function say(response: ServerResponse, status: number, text: string, type = PLAIN): void {
  response.writeHead(status, { 'Content-Type': type, 'Cache-Control': 'no-store' }).end(text);
}

/**
 * For whoever runs the desk, on a port of its own that the public does not reach:
 * GET /healthz  200 while the process lives
 * GET /readyz   200 while texts can be answered; 503 with the reason while the records cannot be read, or at the end
 * GET /metrics  in the Prometheus text format; 503 while the records cannot be read
 */
export function operations(parts: OperationsParts): RequestListener {
  async function whyNotReady(): Promise<string | null> {
    if (parts.stopping()) return 'stopping';
    const cancel = new AbortController();
    const tooLong = pause(RECORDS_ANSWER_WITHIN_MS, 'late' as const, { signal: cancel.signal, ref: false });
    try {
      const looked = await Promise.race([parts.lookAtRecords(), tooLong]);
      return looked === 'late' ? 'the records do not answer' : null;
    } catch (error) {
      parts.note('the records cannot be read', { error });
      return 'the records cannot be read';
    } finally {
      cancel.abort();
      tooLong.catch(() => undefined);
    }
  }

  async function answer(path: string, response: ServerResponse): Promise<void> {
    if (path === '/healthz') return say(response, 200, 'ok\n');
    if (path === '/readyz') {
      const reason = await whyNotReady();
      const redis = parts.redisReady() === false ? ', without Redis: work is done straight from the table' : '';
      return say(response, reason === null ? 200 : 503, `${reason ?? `ready${redis}`}\n`);
    }
    if (path !== '/metrics') return say(response, 404, 'Here are /healthz, /readyz and /metrics.\n');
    try {
      const { type, text } = await parts.watch.metrics();
      say(response, 200, text, type);
    } catch (error) {
      parts.note('the metrics cannot be told', { error });
      say(response, 503, 'The records cannot be read.\n');
    }
  }

  return (request, response) => {
    if (request.method !== 'GET') return say(response, 405, 'Only GET.\n');
    void answer(new URL(request.url ?? '/', 'http://here').pathname, response);
  };
}
