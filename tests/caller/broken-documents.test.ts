import { expect, test } from 'vitest';
import { staticVoice } from '../../src/carrier/static-fallback.ts';
import { BadDocument, readVoiceDocument } from './voice-document.ts';

/** The simulator itself: each broken document is refused, with what is wrong with it. */
const ACTION = 'action="https://desk.example.com/carrier/voice/turn?turn=1"';
const GATHER = `<Gather input="dtmf speech" ${ACTION} actionOnEmptyResult="true"><Say>Which?</Say></Gather>`;

test.for([
  ['<Respond><Say>Hello</Say></Respond>', 'the root is Respond, not Response'],
  ['<Response><Speak>Hello</Speak></Response>', 'no such verb: Speak|Speak may not stand in Response'],
  ['<Response><Say voize="a">Hello</Say><Hangup/></Response>', 'Say has no attribute voize'],
  ['<Response><Say language="xx-YY">Hello</Say><Hangup/></Response>', 'language="xx-YY" is not allowed'],
  ['<Response><Say></Say><Hangup/></Response>', 'Say is empty'],
  ['<Response><Say>Hello<Gather/></Say><Hangup/></Response>', 'Gather may not stand in Say'],
  [
    `<Response><Gather ${ACTION} actionOnEmptyResult="true"><Hangup/></Gather></Response>`,
    'Hangup may not stand in Gather',
  ],
  ['<Response><Queue>a</Queue></Response>', 'Queue may not stand in Response'],
  [
    `<Response><Gather ${ACTION} timeout="soon" actionOnEmptyResult="true"/></Response>`,
    'timeout="soon" is not allowed',
  ],
  [`<Response><Gather ${ACTION} timeout="0" actionOnEmptyResult="true"/></Response>`, 'timeout="0" is not allowed'],
  [`<Response><Gather ${ACTION} input="voice" actionOnEmptyResult="true"/></Response>`, 'input="voice" is not allowed'],
  [`<Response><Gather action="/turn" actionOnEmptyResult="true"/></Response>`, 'action="/turn" is not allowed'],
  [`<Response><Gather ${ACTION}><Say>Which?</Say></Gather></Response>`, 'a timeout of Gather is handled by nothing'],
  ['<Response><Say>Hello</Say></Response>', 'the document ends with Say'],
  ['<Response><Pause length="3"/></Response>', 'the document ends with Pause'],
  ['<Response></Response>', 'an empty document ends the call in silence'],
  ['<Response><Hangup/><Say>Late</Say></Response>', 'nothing after Hangup is reached'],
  [
    `<Response><Redirect>https://desk.example.com/a</Redirect>${GATHER}</Response>`,
    'nothing after Redirect is reached',
  ],
  [`<Response><Record ${ACTION}/></Response>`, 'silence at Record is handled by nothing'],
  ['<Response><Dial>+19705550190</Dial></Response>', 'a Dial that nobody answers is handled by nothing'],
  ['<Response><Enqueue>caller-1</Enqueue></Response>', 'an Enqueue without action'],
  [`<Response><Enqueue ${ACTION}></Enqueue></Response>`, 'Enqueue is empty'],
  ['<Response><Leave/></Response>', 'Leave outside a queue'],
  ['<Response><Say>Hello</Response>', 'no well-formed XML'],
] as const)('%s is refused', ([document, problem]) => {
  expect(() => readVoiceDocument(document)).toThrow(BadDocument);
  expect(() => readVoiceDocument(document)).toThrow(new RegExp(problem));
});

test.for([
  [`<Response><Enqueue ${ACTION}>a</Enqueue></Response>`, 'Enqueue may not stand in what is played'],
  ['<Response><Dial>+19705550190</Dial><Hangup/></Response>', 'Dial may not stand in what is played'],
  [`<Response><Record ${ACTION}/><Leave/></Response>`, 'Record may not stand in what is played'],
] as const)('%s is refused while someone waits', ([document, problem]) => {
  expect(() => readVoiceDocument(document, 'queue')).toThrow(new RegExp(problem));
});

test('sound documents are read', () => {
  expect(readVoiceDocument(`<Response>${GATHER}</Response>`).map(({ name }) => name)).toEqual(['Gather']);
  expect(readVoiceDocument('<Response><Say>Wait</Say><Leave/></Response>', 'queue').length).toBe(2);
});

test('the static document for calls is one that the provider takes, danger first in both languages', () => {
  const document = staticVoice({ outfitName: 'A & B', emergencyNumber: '911', directPhone: '+19705550190' });
  const verbs = readVoiceDocument(document);
  expect(verbs.map(({ name }) => name)).toEqual(['Say', 'Say', 'Say', 'Say', 'Dial', 'Say', 'Say', 'Hangup']);
  expect(verbs[0]?.text).toMatch(/^This is A & B\. .* hang up and call 9 1 1 now\.$/);
  expect(verbs[1]?.text).toMatch(/cuelgue y llame ya al 9 1 1/);
});
