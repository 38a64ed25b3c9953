import { expect, test } from 'vitest';
import { spokenInTwiml } from '../../src/carrier/caller-document.ts';
import { callerTwiml } from '../../src/carrier/caller-twiml.ts';
import type { AfterWords } from '../../src/desk/carrier.ts';

const AFTERS: readonly AfterWords[] = [
  { do: 'listen', turn: 3, lang: 'es', hints: ['nada', 'un pitido'], keys: 'one', patienceS: 7 },
  { do: 'listen', turn: 12, lang: 'en', hints: ['two & a half'], keys: 'digits', patienceS: 10 },
  { do: 'queue', turn: 4, queue: 'caller-9' },
  { do: 'record', turn: 5, longestS: 120 },
  { do: 'wait', turn: 4, count: 6, pauseS: 10 },
  { do: 'leave-queue' },
  { do: 'hang-up' },
];

test.for(AFTERS)('what is said is read back as it was written, and then: $do', (after) => {
  const sentences =
    after.do === 'leave-queue' ? [] : [{ lang: 'es' as const, words: 'Siga con "el" oxígeno <ya> & espere.' }];
  const spoken = { sentences, after };
  expect(spokenInTwiml(callerTwiml(spoken, 'https://desk.example.com'))).toEqual(spoken);
});

test.for(['<Response/>', '<Response><Say>Hello</Say></Response>', '<Response><Dial>+19705550190</Dial></Response>'])(
  'a document that a call of ours cannot go on from is refused: %s',
  (document) => {
    expect(() => spokenInTwiml(document)).toThrow(/a caller would hear silence/);
  },
);
