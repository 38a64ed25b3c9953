import http from 'node:http';
import autocannon from 'autocannon';
import { signatureOf } from '../../carrier/signature.ts';
import { phoneOfGuest, scriptOf } from '../trials/guests.ts';
import { DESK_NUMBER } from '../trials/outfit.ts';
import { SIGNED_UNDER } from '../trials/program.ts';

const PATH = '/carrier/text';

/** Numbers that are given once in a bench, so that no two guests and no two texts are the same. */
export interface Numbering {
  guest: number;
  text: number;
}

interface Post {
  readonly headers: Record<string, string>;
  readonly body: string;
}

/** One signed text of a guest, as the carrier posts it. */
function postOf(guest: number, words: string, numbers: Numbering): Post {
  numbers.text += 1;
  const form = {
    MessageSid: `SM${String(numbers.text).padStart(32, '0')}`,
    AccountSid: `AC${'1'.repeat(32)}`,
    From: phoneOfGuest(guest),
    To: DESK_NUMBER,
    Body: words,
    NumMedia: '0',
    NumSegments: '1',
    SmsStatus: 'received',
    ApiVersion: '2010-04-01',
  };
  return {
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      'x-twilio-signature': signatureOf(SIGNED_UNDER, PATH, form),
    },
    body: new URLSearchParams(form).toString(),
  };
}

/** Texts of one connection without end: a guest's script from its opening to its end, then the next guest's. */
function textsOfConnection(numbers: Numbering): () => Post {
  let guest = -1;
  let left: string[] = [];
  return () => {
    if (left.length === 0) {
      guest = numbers.guest;
      numbers.guest += 1;
      left = [...scriptOf(guest)];
    }
    return postOf(guest, left.shift() ?? '', numbers);
  };
}

export interface Load {
  readonly here: string;
  readonly connections: number;
  readonly seconds: number;
  /** Texts a second over all connections; without it as many as are answered. */
  readonly rate?: number;
  readonly numbers: Numbering;
}

export interface Measured {
  readonly perSecond: number;
  /** 99th percentile, in ms; where a rate was asked for, waits that a stalled server hides are counted in. */
  readonly p99Ms: number;
}

/**
 * Writes as many guests as there are connections do, each waiting for a reply before the next text.
 * @throws Error when a text was not answered with 200: figures of a server that refuses are none.
 */
export async function load({ here, connections, seconds, rate, numbers }: Load): Promise<Measured> {
  const result = await autocannon({
    url: here + PATH,
    connections,
    duration: seconds,
    ...(rate === undefined ? {} : { overallRate: Math.round(rate) }),
    setupClient(client) {
      const next = textsOfConnection(numbers);
      client.setRequests([{ method: 'POST', path: PATH, setupRequest: (request) => ({ ...request, ...next() }) }]);
    },
  });
  if (result.errors + result.non2xx > 0) {
    throw new Error(`bench: ${result.errors} texts got no answer and ${result.non2xx} were refused at ${here}`);
  }
  return { perSecond: result.requests.total / result.duration, p99Ms: result.latency.p99 };
}

const DANGER = 'my husbands lips are blue and hes breathing funny';
/** Asked in words, so that an answer that is no emergency reply is no figure either. */
const EMERGENCY = /Call 911 now/;

/** Posts one text over a connection of its own and gives the ms until the whole answer is there. */
export async function timeDanger(here: string, numbers: Numbering): Promise<number> {
  const guest = numbers.guest;
  numbers.guest += 1;
  const { headers, body } = postOf(guest, DANGER, numbers);
  const begun = performance.now();
  const answer = await new Promise<string>((resolve, reject) => {
    const request = http.request(here + PATH, { method: 'POST', headers, agent: false }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (part: string) => (text += part));
      response.on('end', () => resolve(text));
    });
    request.on('error', reject);
    request.end(body);
  });
  const took = performance.now() - begun;
  if (!EMERGENCY.test(answer)) throw new Error(`bench: a text in danger got no emergency reply at ${here}`);
  return took;
}
