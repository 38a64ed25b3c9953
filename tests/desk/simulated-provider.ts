import nock from 'nock';
import { onTestFinished } from 'vitest';
import { providerCarrier } from '../../src/carrier/provider.ts';
import type { OutboundText } from '../../src/desk/carrier.ts';
import { logInMemory } from '../carrier/desk-on-a-port.ts';
import { pocketCarrier } from './pocket-carrier.ts';
import type { PocketCarrier } from './pocket-carrier.ts';

const ACCOUNT = `AC${'1'.repeat(32)}`;
const ANSWERS_WITHIN_MS = 50;

/**
 * What the provider does with a text, as its documents say.
 * takes        201, and the phone gets it
 * refuses      400 with its code
 * is busy      429
 * fails        503, and nobody gets it
 * takes, fails the phone gets it, and the answer is lost in a 503
 * times out    the phone gets it, and the answer comes too late
 * is down      no connection
 */
export type Doing =
  | 'takes'
  | `refuses ${number}`
  | 'is busy'
  | 'fails'
  | 'takes, fails'
  | 'takes, times out'
  | 'is down';

export interface SimulatedProvider {
  /** The real client in front of it; what phones got is in its pocket. */
  readonly carrier: PocketCarrier;
  /** What it does with texts to a phone from now on, the last for all further ones; it takes what nothing is said of. */
  readonly doTo: (phone: string, ...doings: readonly Doing[]) => void;
}

async function answerTo(doing: Doing, sid: string): Promise<[number, string | object]> {
  const [what, code] = doing.split(' ');
  if (what === 'refuses') return [400, { code: Number(code), message: 'no', status: 400 }];
  switch (doing) {
    case 'is busy':
      return [429, { code: 20429, message: 'busy', status: 429 }];
    case 'is down':
      throw Object.assign(new Error('connection refused'), { code: 'ECONNREFUSED' });
    case 'takes, times out':
      await new Promise((resolve) => void setTimeout(resolve, ANSWERS_WITHIN_MS * 4).unref());
      return [201, { sid, status: 'queued' }];
    case 'takes':
      return [201, { sid, status: 'queued' }];
    default:
      return [503, '<html>no</html>'];
  }
}

/** The provider behind nock, for one test. Calls stay in the pocket: their webhooks have tests of their own. */
export function simulatedProvider(): SimulatedProvider {
  const pocket = pocketCarrier({ reportsDelivery: true });
  const doings = new Map<string, Doing[]>();
  const next = (phone: string): Doing => {
    const queue = doings.get(phone) ?? [];
    return (queue.length > 1 ? queue.shift() : queue[0]) ?? 'takes';
  };
  let ids = 0;
  nock.disableNetConnect();
  nock.enableNetConnect('127.0.0.1');
  nock('https://api.twilio.com')
    .persist()
    .post(`/2010-04-01/Accounts/${ACCOUNT}/Messages.json`)
    .reply(async (request: Request) => {
      const form = new URLSearchParams(await request.text());
      const text: OutboundText = {
        to: form.get('To') ?? '',
        body: form.get('Body') ?? '',
        workId: Number(new URL(form.get('StatusCallback') ?? '').searchParams.get('work')),
      };
      const doing = next(text.to);
      if (doing.startsWith('takes')) pocket.sent.push(text);
      ids += 1;
      return answerTo(doing, `SM-out-${ids}`);
    });
  nock('https://api.twilio.com')
    .persist()
    .get(`/2010-04-01/Accounts/${ACCOUNT}.json`)
    .reply(200, { sid: ACCOUNT, status: 'active' });
  onTestFinished(() => {
    nock.cleanAll();
    nock.enableNetConnect();
  });
  const provider = {
    account: ACCOUNT,
    token: '0'.repeat(32),
    from: '+19705550100',
    publicUrl: 'https://desk.example.com',
  };
  const client = providerCarrier(provider, logInMemory().log, ANSWERS_WITHIN_MS);
  return {
    carrier: {
      ...pocket,
      sendText: (text) => client.sendText(text),
      reachable: () => client.reachable?.() ?? Promise.resolve(true),
    },
    doTo: (phone, ...these) => void doings.set(phone, [...these]),
  };
}
