import { once } from 'node:events';
import { createServer } from 'node:http';
import type { RequestListener } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface Server {
  /** The port it really listens on. */
  readonly port: number;
  /** Takes no new requests, lets those under way be answered, and is done when they are. */
  stop(): Promise<void>;
}

/** The carrier waits 15 seconds for an answer: nobody waits for one that takes longer. */
const GRACE_MS = 15_000;
/** Who sends slower than any phone company holds a connection that others need. */
const HEADERS_MS = 10_000;

/**
 * Listens.
 * @param host  null for every address of this machine
 * @throws Error that says what to do when the port is taken or may not be used.
 */
export async function serve(app: RequestListener, port: number, host: string | null): Promise<Server> {
  const server = createServer({ headersTimeout: HEADERS_MS, requestTimeout: GRACE_MS }, app);
  server.listen(host === null ? { port } : { port, host });
  try {
    await once(server, 'listening');
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new Error(`Port ${port} cannot be used (${code}): stop what uses it, or set PORT to another.`, {
      cause: error,
    });
  }
  return {
    port: (server.address() as AddressInfo).port,
    async stop() {
      const closed = once(server, 'close');
      server.close();
      const tooLong = setTimeout(() => server.closeAllConnections(), GRACE_MS);
      await closed;
      clearTimeout(tooLong);
    },
  };
}
