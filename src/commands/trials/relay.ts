import { once } from 'node:events';
import { connect, createServer } from 'node:net';
import type { AddressInfo, Socket } from 'node:net';

/** Stands before a server on this machine, so that the server can be away for some without being so for others. */
export interface Relay {
  readonly port: number;
  /** Ends all connections and takes no others: to those behind it the server has stopped. */
  stop(): Promise<void>;
  /** Takes connections again, under the same port. */
  start(): Promise<void>;
}

/** Opens one before the server at that address, started. */
export async function openRelay(host: string, port: number): Promise<Relay> {
  const open = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(port, host);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(one);
      one.pipe(other);
      // An end that breaks takes the other with it: there is nothing in between.
      one.on('error', () => other.destroy());
      one.on('close', () => {
        open.delete(one);
        other.destroy();
      });
    }
  });
  const listen = async (at: number): Promise<void> => {
    server.listen(at, '127.0.0.1');
    await once(server, 'listening');
  };
  await listen(0);
  const { port: own } = server.address() as AddressInfo;
  return {
    port: own,
    async stop() {
      if (!server.listening) return;
      const closed = once(server, 'close');
      server.close();
      for (const socket of open) socket.destroy();
      await closed;
    },
    async start() {
      if (!server.listening) await listen(own);
    },
  };
}
