import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface TakingCarrier {
  readonly port: number;
  readonly close: () => Promise<void>;
}

/** A carrier on this machine that takes whatever it is asked to send, at once, and says so as the provider does. */
export async function takingCarrier(): Promise<TakingCarrier> {
  let taken = 0;
  const server = createServer((request, response) => {
    request.resume();
    request.on('end', () => {
      taken += 1;
      response.writeHead(201, { 'content-type': 'application/json' });
      response.end(JSON.stringify({ sid: `SM-out-${taken}`, status: 'queued' }));
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
