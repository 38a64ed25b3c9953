import http from 'node:http';
import type { ClientRequest, RequestOptions } from 'node:http';
import https from 'node:https';

/**
 * Loaded before the desk in a trial (`node --import`): whatever its carrier's client sends to the provider goes to a
 * simulated carrier on this machine instead, and nothing else leaves it. The desk itself knows nothing of it.
 */
const PROVIDER = 'api.twilio.com';
const port = Number(process.env['TRIAL_CARRIER_PORT']);

function rerouted(options: RequestOptions, ...rest: readonly unknown[]): ClientRequest {
  const host = options.hostname ?? options.host;
  if (host !== PROVIDER) throw new Error(`a trial reaches nobody; the desk asked for ${host}`);
  const { path, method, headers, timeout, auth } = options;
  const here = { host: '127.0.0.1', port, path, method, headers, timeout, auth };
  return http.request(here, rest.find((each) => typeof each === 'function') as () => void);
}

https.request = rerouted as typeof https.request;
