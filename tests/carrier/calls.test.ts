import nock from 'nock';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { providerCarrier } from '../../src/carrier/provider.ts';
import { deskOnAPort, logInMemory } from './desk-on-a-port.ts';

const TURN = '/carrier/call/turn?call=7&turn=1';
const STATUS = '/carrier/call/status?call=7';

describe('a turn of a call', () => {
  test('goes to the desk with its key, and its words come back with the address of the next turn, to be signed', async () => {
    const { post, desk } = await deskOnAPort();
    const answer = await post(TURN, { CallSid: 'CA1', CallStatus: 'in-progress', Digits: '1' });
    expect(desk.turns).toEqual([{ call: 7, turn: 1, digits: '1', machine: false }]);
    expect(answer.status).toBe(200);
    expect(answer.body).toContain('<Say language="en-US">turn 1 of call 7</Say>');
    expect(answer.body).toContain('action="https://desk.example.com/carrier/call/turn?call=7&amp;turn=2"');
  });

  test('without a key says so', async () => {
    const { post, desk } = await deskOnAPort();
    await post(TURN, { Digits: '' });
    await post(TURN, {});
    expect(desk.turns.map((turn) => turn.digits)).toEqual([null, null]);
  });

  test.for([
    ['human', false],
    ['unknown', false],
    ['machine_start', true],
    ['machine_end_beep', true],
    ['fax', true],
  ] as const)('answered by "%s" is by a machine: %s', async ([AnsweredBy, machine]) => {
    const { post, desk } = await deskOnAPort();
    await post('/carrier/call/turn?call=7&turn=0', { AnsweredBy });
    expect(desk.turns).toMatchObject([{ turn: 0, machine }]);
  });

  test('after the first is never a machine’s: a person has pressed a key', async () => {
    const { post, desk } = await deskOnAPort();
    await post(TURN, { AnsweredBy: 'machine_start', Digits: '1' });
    expect(desk.turns).toMatchObject([{ machine: false }]);
  });

  test('that ends the call hangs up', async () => {
    const { post, desk } = await deskOnAPort();
    desk.callTurn = () => Promise.resolve({ lang: 'es', sentences: ['Adiós & <gracias>'], nextTurn: null });
    const { body } = await post(TURN, { Digits: '1' });
    expect(body).toContain('<Say language="es-MX">Adiós &amp; &lt;gracias&gt;</Say><Hangup/>');
    expect(body).not.toContain('Gather');
  });

  test('that the desk cannot answer says what to do, and tells nothing of the inside', async () => {
    const { post, desk, log } = await deskOnAPort();
    desk.callTurn = () => Promise.reject(new Error('records down at /srv/secret'));
    const answer = await post(TURN, { Digits: '1' });
    expect(answer.status).toBe(200);
    expect(answer.body).toMatch(/call the emergency number now.*<Hangup\/>/);
    expect(answer.body).not.toContain('secret');
    expect(log()).toContain('records down');
  });

  test.for(['', '?call=7', '?turn=1', '?call=x&turn=1', '?call=7&turn=-1', '?call=7&turn=1000'])(
    'named "%s" is 400',
    async (query) => {
      const { post, desk } = await deskOnAPort();
      expect((await post(`/carrier/call/turn${query}`, { Digits: '1' })).status).toBe(400);
      expect(desk.turns).toEqual([]);
    },
  );
});

describe('the end of a call', () => {
  test.for([
    ['completed', ['completed']],
    ['busy', ['busy']],
    ['no-answer', ['no-answer']],
    ['failed', ['failed']],
    ['canceled', ['failed']],
    ['ringing', []],
    ['a word of next year', []],
  ] as const)('"%s" reaches the desk as %j', async ([CallStatus, outcomes]) => {
    const { post, desk } = await deskOnAPort();
    expect((await post(STATUS, { CallStatus })).status).toBe(204);
    expect(desk.ended).toEqual(outcomes.map((outcome) => ({ call: 7, outcome })));
  });

  test.for([
    ['/carrier/call/status', { CallStatus: 'busy' }],
    ['/carrier/call/status?call=x', { CallStatus: 'busy' }],
    [STATUS, {}],
  ] as const)('told as %s %j is 400', async ([path, form]) => {
    const { post, desk } = await deskOnAPort();
    expect((await post(path, form as Record<string, string>)).status).toBe(400);
    expect(desk.ended).toEqual([]);
  });

  test('that the desk cannot take is 500, so that the carrier may say it again', async () => {
    const { post, desk } = await deskOnAPort();
    desk.callEnded = () => Promise.reject(new Error('records down'));
    expect((await post(STATUS, { CallStatus: 'busy' })).status).toBe(500);
  });
});

test.for([
  [TURN, { Digits: '1' }],
  [STATUS, { CallStatus: 'busy' }],
] as const)(
  '%s without a signature, or with that of another turn or call, is 403 and reaches nobody',
  async ([path, form]) => {
    const { post, desk } = await deskOnAPort();
    expect((await post(path, { ...form }, { unsigned: true })).status).toBe(403);
    expect((await post(path, { ...form }, { signedAs: { path: path.replace('7', '8') } })).status).toBe(403);
    expect([desk.turns, desk.ended]).toEqual([[], []]);
  },
);

describe('placing a call through the carrier’s client', () => {
  const ACCOUNT = 'AC00000000000000000000000000000000';
  const PROVIDER = {
    account: ACCOUNT,
    token: '0123456789abcdef0123456789abcdef',
    from: '+19705550100',
    publicUrl: 'https://desk.example.com',
  };
  const CALL = { to: '+19705550190', opening: 'DANGER in 204', workId: 12 };
  const calls = (take: (form: URLSearchParams) => void = () => {}) =>
    nock('https://api.twilio.com').post(
      `/2010-04-01/Accounts/${ACCOUNT}/Calls.json`,
      (body: Record<string, string>) => {
        take(new URLSearchParams(body));
        return true;
      },
    );

  beforeEach(() => nock.disableNetConnect());
  afterEach(() => {
    nock.cleanAll();
    nock.enableNetConnect();
  });

  test('names the addresses for its words and its end, asks for machines, and rings for less than a voicemail waits', async () => {
    let form = new URLSearchParams();
    calls((sent) => (form = sent)).reply(201, { sid: 'CA42', status: 'queued' });
    const { log, written } = logInMemory();
    expect(await providerCarrier(PROVIDER, log).placeCall(CALL)).toEqual({ sent: true, providerId: 'CA42' });
    expect(Object.fromEntries(form)).toEqual({
      To: '+19705550190',
      From: '+19705550100',
      Url: 'https://desk.example.com/carrier/call/turn?call=12&turn=0',
      Method: 'POST',
      StatusCallback: 'https://desk.example.com/carrier/call/status?call=12',
      StatusCallbackMethod: 'POST',
      StatusCallbackEvent: 'completed',
      MachineDetection: 'Enable',
      Timeout: '25',
    });
    expect(written()).not.toMatch(/9705550190|DANGER/);
  });

  test('that is refused says so, and the log has neither the number nor the words', async () => {
    calls().reply(400, { code: 21211, message: 'To +19705550190 DANGER in 204 is not valid', status: 400 });
    const { log, written } = logInMemory();
    expect(await providerCarrier(PROVIDER, log).placeCall(CALL)).toMatchObject({
      sent: false,
      final: true,
      code: '21211',
    });
    expect(written()).not.toMatch(/9705550190|DANGER/);
  });
});
