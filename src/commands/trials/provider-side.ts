import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/** What the desk's client asks of the provider. */
export interface ProviderRequest {
  readonly what: 'text' | 'call' | 'account';
  readonly form: Readonly<Record<string, string>>;
}

/** How it is answered; `cut` ends the connection without an answer. */
export type ProviderAnswer = { readonly status: number; readonly body: object } | 'cut';

export interface ProviderSide {
  readonly port: number;
  readonly close: () => Promise<void>;
}

function whatIsAsked(path: string): ProviderRequest['what'] {
  if (path.endsWith('/Messages.json')) return 'text';
  return path.endsWith('/Calls.json') ? 'call' : 'account';
}

/**
 * The provider's interface on this machine.
 * @param answer what it does with a request; called once the request is read
 * @param onTold told of each request whether the whole answer was written before the connection ended
 */
export async function openProviderSide<Answer extends { readonly answer: ProviderAnswer }>(
  answer: (request: ProviderRequest) => Promise<Answer>,
  onTold: (answered: Answer, whole: boolean) => void = () => {},
): Promise<ProviderSide> {
  const server = createServer((request, response) => {
    let body = '';
    request.setEncoding('utf8');
    request.on('data', (part: string) => (body += part));
    request.on('end', () => {
      const asked = {
        what: whatIsAsked(new URL(request.url ?? '/', 'http://provider').pathname),
        form: Object.fromEntries(new URLSearchParams(body)),
      };
      void answer(asked).then((answered) => {
        response.once('close', () => onTold(answered, response.writableFinished));
        if (answered.answer === 'cut') return response.destroy();
        response.writeHead(answered.answer.status, { 'content-type': 'application/json' });
        return response.end(JSON.stringify(answered.answer.body));
      });
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    port: (server.address() as AddressInfo).port,
    async close() {
      const closed = once(server, 'close');
      server.close();
      server.closeAllConnections();
      await closed;
    },
  };
}

/** A provider that takes whatever it is asked to send, at once, and says so. */
export function takingProvider(): Promise<ProviderSide> {
  let taken = 0;
  return openProviderSide(() => {
    taken += 1;
    return Promise.resolve({ answer: { status: 201, body: { sid: `SM-out-${taken}`, status: 'queued' } } });
  });
}
