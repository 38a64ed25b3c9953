import { describe, expect, test } from 'vitest';
import { readVoiceDocument } from '../caller/voice-document.ts';
import { deskOnAPort } from './desk-on-a-port.ts';

const CALL = { CallSid: 'CA1', From: '+19705550123', To: '+19705550100', CallStatus: 'in-progress' };
const TURN = '/carrier/voice/turn?turn=3';
const WAIT = '/carrier/voice/wait?turn=3&count=2';

test.for([
  ['/carrier/voice', CALL],
  [TURN, CALL],
  [WAIT, CALL],
  ['/carrier/voice/status', { ...CALL, CallStatus: 'completed' }],
  ['/carrier/voice/fallback', CALL],
] as const)('%s without a signature, or with that of another turn, is 403 and reaches nobody', async ([path, form]) => {
  const { post, desk } = await deskOnAPort();
  expect((await post(path, { ...form }, { unsigned: true })).status).toBe(403);
  expect((await post(path, { ...form }, { signedAs: { path: `${path}9` } })).status).toBe(403);
  expect((await post(path, { ...form }, { signedAs: { token: 'another' } })).status).toBe(403);
  expect([desk.callerTurns, desk.gone]).toEqual([[], []]);
});

describe('a turn of a call that comes in', () => {
  test('is the first without a number, and speaks with both ears open, its next turn in the signed address', async () => {
    const { post, desk } = await deskOnAPort();
    const { status, body } = await post('/carrier/voice', CALL);
    expect(status).toBe(200);
    expect(desk.callerTurns).toEqual([{ callId: 'CA1', from: '+19705550123', turn: 0, said: { came: 'nothing' } }]);
    const [gather] = readVoiceDocument(body);
    expect(gather).toMatchObject({
      name: 'Gather',
      attributes: {
        input: 'dtmf speech',
        action: 'https://desk.example.com/carrier/voice/turn?turn=1',
        actionOnEmptyResult: 'true',
        // A comma would end a hint.
        hints: 'one  two',
        numDigits: '1',
        finishOnKey: '',
      },
    });
  });

  test.for([
    [{ Digits: '5' }, { came: 'keys', keys: '5' }],
    [{ Digits: '2*5' }, { came: 'keys', keys: '2*5' }],
    [
      { SpeechResult: 'it beeps', Confidence: '0.42' },
      { came: 'speech', words: 'it beeps', confidence: 0.42 },
    ],
    [{ SpeechResult: 'it beeps' }, { came: 'speech', words: 'it beeps', confidence: 0 }],
    [
      { SpeechResult: 'it beeps', Confidence: 'very' },
      { came: 'speech', words: 'it beeps', confidence: 0 },
    ],
    [
      { SpeechResult: 'it beeps', Digits: '5' },
      { came: 'keys', keys: '5' },
    ],
    [{ SpeechResult: '  ', Digits: '' }, { came: 'nothing' }],
    [{ Digits: 'hangup' }, { came: 'nothing' }],
    [{ SpeechResult: 'a\u0000b' }, { came: 'speech', words: 'ab', confidence: 0 }],
    [{ QueueResult: 'bridged' }, { came: 'queue', result: 'talked' }],
    [{ QueueResult: 'leave' }, { came: 'queue', result: 'left' }],
    [{ QueueResult: 'hangup' }, { came: 'queue', result: 'gone' }],
    [{ QueueResult: 'queue-full' }, { came: 'queue', result: 'failed' }],
    [{ QueueResult: 'a word of next year' }, { came: 'queue', result: 'failed' }],
    [{ DialCallStatus: 'no-answer' }, { came: 'queue', result: 'failed' }],
    [
      { RecordingUrl: 'https://api.example.com/RE1', RecordingDuration: '12' },
      { came: 'recording', address: 'https://api.example.com/RE1', lengthS: 12 },
    ],
    [{ RecordingUrl: 'javascript:alert(1)' }, { came: 'nothing' }],
  ] as const)('with %j is %j', async ([form, said]) => {
    const { post, desk } = await deskOnAPort();
    await post(TURN, { ...CALL, ...form });
    expect(desk.callerTurns).toEqual([{ callId: 'CA1', from: '+19705550123', turn: 3, said }]);
  });

  test.for(['anonymous', 'Restricted', '', '+266696687', '+7378742833', '+86282452253', '266696687', 'sip:a@b'])(
    'from "%s" has a hidden number',
    async (From) => {
      const { post, desk } = await deskOnAPort();
      await post('/carrier/voice', { ...CALL, From });
      expect(desk.callerTurns.map(({ from }) => from)).toEqual([null]);
    },
  );

  test.for([
    '/carrier/voice/turn',
    '/carrier/voice/turn?turn=x',
    '/carrier/voice/turn?turn=1000',
    '/carrier/voice/turn?turn=-1',
  ])('%s is 400', async (path) => {
    const { post, desk } = await deskOnAPort();
    expect((await post(path, CALL)).status).toBe(400);
    expect((await post(TURN, { ...CALL, CallSid: 'no id; drop' })).status).toBe(400);
    expect(desk.callerTurns).toEqual([]);
  });
});

describe('when the desk cannot answer a call', () => {
  test.for([['/carrier/voice'], [TURN]] as const)(
    '%s is answered with the static document; the log has neither words nor number',
    async ([path]) => {
      const { post, desk, log } = await deskOnAPort();
      desk.callTrouble = () => Promise.reject(new Error('records down; last words: my lips are blue'));
      const { status, body } = await post(path, { ...CALL, SpeechResult: 'my lips are blue', Confidence: '0.9' });
      expect(status).toBe(200);
      expect(readVoiceDocument(body).map(({ name }) => name)).toContain('Dial');
      expect(body).toMatch(/hang up and call 9 1 1 now.*<Dial[^>]*>\+19705550190<\/Dial>/);
      expect(log()).toContain('records down');
      expect(log()).not.toMatch(/lips are blue|9705550123/);
    },
  );

  test('nor in time: the caller hears the static document and not the provider’s error', async () => {
    const { post, desk } = await deskOnAPort({ answerWithinMs: 20 });
    desk.callTrouble = () => new Promise(() => {});
    expect((await post(TURN, CALL)).body).toContain('<Dial');
  });

  test('someone who waits is sent out of the queue, to the turn that has the whole document', async () => {
    const { post, desk } = await deskOnAPort();
    desk.callTrouble = () => Promise.reject(new Error('records down'));
    const { body } = await post(WAIT, CALL);
    expect(readVoiceDocument(body, 'queue').map(({ name }) => name)).toEqual(['Leave']);
  });

  test('the fallback address gives the static document without asking the desk', async () => {
    const { post, desk } = await deskOnAPort();
    desk.callTrouble = () => Promise.reject(new Error('must not be asked'));
    const { status, body } = await post('/carrier/voice/fallback', { ...CALL, ErrorCode: '11200' });
    expect(status).toBe(200);
    expect(readVoiceDocument(body).at(-1)?.name).toBe('Hangup');
  });
});

test('someone who waits hears the words, then a pause, and is sent on to the next ones', async () => {
  const { post } = await deskOnAPort();
  const { body } = await post(WAIT, CALL);
  expect(readVoiceDocument(body, 'queue').map(({ name, text }) => [name, text])).toEqual([
    ['Say', 'count 2'],
    ['Pause', ''],
    ['Redirect', 'https://desk.example.com/carrier/voice/wait?turn=3&count=3'],
  ]);
});

test.for([
  ['completed', ['CA1']],
  ['no-answer', ['CA1']],
  ['in-progress', []],
  ['a word of next year', []],
] as const)('a call whose status is "%s" is over: %j', async ([CallStatus, gone]) => {
  const { post, desk } = await deskOnAPort();
  expect((await post('/carrier/voice/status', { ...CALL, CallStatus })).status).toBe(204);
  expect(desk.gone).toEqual(gone);
});
