import { asyncProperty, assert, constantFrom, dictionary, nat, oneof, record, string, uuid } from 'fast-check';
import type { Arbitrary } from 'fast-check';
import { expect, test } from 'vitest';
import { CALL_STATUS_PATH, TURN_PATH } from '../../src/carrier/call-twiml.ts';
import {
  VOICE_FALLBACK_PATH,
  VOICE_PATH,
  VOICE_STATUS_PATH,
  VOICE_TURN_PATH,
  VOICE_WAIT_PATH,
} from '../../src/carrier/caller-twiml.ts';
import { signatureOf } from '../../src/carrier/signature.ts';
import { ROUTES } from '../../src/pages/routes.ts';
import { guestText } from '../carrier/desk-on-a-port.ts';
import { BRAM, GUEST, LOWEN, entriesOf, nightDesk, openCalloutsOf } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { SIGNED_UNDER } from '../desk/signed-posts.ts';
import { theOwner } from '../pages/visitor.ts';

/**
 * What comes to each door is made up here, from a seed: whoever has the provider's token, or a browser, can send anything.
 * Whatever it is, the desk answers without a fault of its own, and nobody else's night changes.
 */
const RUNS = { numRuns: 60, seed: 20261125 } as const;

/** Names that mean something to JavaScript, and things that are not what they look like. */
const ODD = [
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  '[]',
  'a[b][c]',
  '',
  '\u0000',
  '\u202e',
  '%00',
  '=1+1',
];
const odd: Arbitrary<string> = oneof(constantFrom(...ODD), string({ unit: 'binary', maxLength: 60 }), uuid());
const FIELDS = [
  'Body',
  'NumMedia',
  'MediaUrl0',
  'OptOutType',
  'Digits',
  'SpeechResult',
  'Confidence',
  'RecordingUrl',
  'CallStatus',
  'DialCallStatus',
  'AnsweredBy',
  'MessageStatus',
  'ErrorCode',
  'CallSid',
  'QueueResult',
];
const form = dictionary(oneof(constantFrom(...FIELDS), odd), odd, { maxKeys: 8 });

const CARRIER_DOORS = [
  '/carrier/text',
  '/carrier/fallback',
  '/carrier/text-status?reply=1',
  '/carrier/text-status?work=1',
  VOICE_PATH,
  `${VOICE_TURN_PATH}?turn=3`,
  `${VOICE_WAIT_PATH}?turn=3&count=1`,
  VOICE_STATUS_PATH,
  VOICE_FALLBACK_PATH,
  `${TURN_PATH}?call=1&turn=0`,
  `${CALL_STATUS_PATH}?call=1`,
];

/** The form as it comes over the wire: a lone half of a character pair cannot be sent. */
const sendable = (fields: Readonly<Record<string, string>>): Record<string, string> =>
  Object.fromEntries(new URLSearchParams(fields));

async function postTo(desk: NightDesk, path: string, fields: Readonly<Record<string, string>>): Promise<Response> {
  return fetch(desk.here + path, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': signatureOf(SIGNED_UNDER, path, fields) },
    body: new URLSearchParams(fields),
  });
}

const written = async (desk: NightDesk, phone: string): Promise<number> => (await entriesOf(desk, phone)).length;

test('whatever a signed form holds, no door fails, and nobody else’s conversation changes', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, "it won't stop beeping");
  const before = await written(desk, GUEST);
  await assert(
    asyncProperty(constantFrom(...CARRIER_DOORS), nat(), form, async (path, id, fields) => {
      const sent = sendable({
        MessageSid: `SMx${id}`,
        CallSid: `CAx${id}`,
        From: LOWEN,
        To: '+19705550100',
        ...fields,
      });
      const { status } = await postTo(desk, path, sent);
      expect(status).toBeLessThan(500);
      expect(status, `${path} is no door`).not.toBe(404);
    }),
    RUNS,
  );
  expect(await written(desk, GUEST)).toBe(before);
  expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  expect(await desk.text(LOWEN, 'my husband has blue lips')).toMatch(/^Call 911 now/);
});

test('texts that come twice and out of order are each answered once, with the same words', async () => {
  const desk = await nightDesk();
  const sent = new Map<string, string>();
  await assert(
    asyncProperty(
      nat({ max: 12 }),
      constantFrom('1', 'yes', 'it beeps', 'the bottle is empty', '3'),
      async (id, words) => {
        const fields = guestText(sent.has(`${id}`) ? 'other words' : words, { MessageSid: `SMr${id}`, From: GUEST });
        const body = await (await postTo(desk, '/carrier/text', fields)).text();
        const known = sent.get(`${id}`);
        if (known !== undefined) expect(body).toBe(known);
        sent.set(`${id}`, body);
      },
    ),
    RUNS,
  );
  const ids = (await entriesOf(desk, GUEST)).flatMap(({ who, messageId }) => (who === 'guest' ? [messageId] : []));
  expect(ids).toHaveLength(new Set(ids).size);
  expect(ids).toHaveLength(sent.size);
});

test('what a technician’s phone sends takes, passes and closes only by its own words', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, 'I want to talk to a person');
  await assert(
    asyncProperty(
      oneof(odd, constantFrom('TAKEN', 'TAKE9', 'DONE', 'PASSWORD', 'PASS 99', 'TELL', 'SWAP', 'TAKE 1e0', 'DONE 1')),
      async (words) => {
        await desk.text(BRAM, words.trim() === '' ? '-' : words);
      },
    ),
    RUNS,
  );
  expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'ringing' }]);
});

test('a guest who writes a technician’s words is a guest', async () => {
  const desk = await nightDesk();
  await desk.text(GUEST, 'I want to talk to a person');
  await assert(
    asyncProperty(
      constantFrom('TAKE 1', 'PASS 1', 'DONE 1 all well', 'TELL 1 go home', 'take', 'done'),
      async (words) => {
        await desk.text(LOWEN, words);
      },
    ),
    { ...RUNS, numRuns: 12 },
  );
  expect(await openCalloutsOf(desk, GUEST)).toMatchObject([{ status: 'ringing' }]);
});

test('no cookie, path, query or field that was made up opens a page or breaks one', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, 'my husband has blue lips');
  const paths = constantFrom(...ROUTES.map(({ path }) => path));
  const made = record({ path: paths, part: odd, query: odd, cookie: odd, fields: form });
  await assert(
    asyncProperty(made, async ({ path, part, query, cookie, fields }) => {
      const to = path.replaceAll(/:[a-z]+/g, () => encodeURIComponent(part.toWellFormed()) || '-');
      const headers = {
        Cookie: `session=${encodeURIComponent(cookie.toWellFormed())}; __Host-session=${encodeURIComponent(cookie.toWellFormed())}`,
      };
      const asked = `${desk.here}${to}?${encodeURIComponent(query.toWellFormed())}=1`;
      const shown = await fetch(asked, { headers, redirect: 'manual' });
      expect([to, shown.status < 500]).toEqual([to, true]);
      if (shown.status === 200) expect(await shown.text()).not.toContain('Perrin Aldwick');
      const posted = await fetch(asked, {
        method: 'POST',
        headers,
        body: new URLSearchParams(sendable(fields)),
        redirect: 'manual',
      });
      expect([to, posted.status < 500]).toEqual([to, true]);
    }),
    RUNS,
  );
});

test('whatever the owner’s own forms hold, no page breaks', async () => {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, 'my husband has blue lips');
  const owner = await theOwner(desk);
  const [, token = ''] = /name="token" value="([^"]*)"/.exec((await owner.get('/account')).html) ?? [];
  const forms = [
    '/flows/hear',
    '/rentals/new',
    '/places/units/new',
    '/places/models/new',
    '/places/properties/new',
    '/places/rooms/new',
    '/roster/swap',
  ];
  await assert(
    asyncProperty(
      constantFrom(...forms),
      form,
      dictionary(
        constantFrom(
          'guest',
          'phones',
          'first_day',
          'tag',
          'name',
          'elevation_m',
          'words',
          'night',
          'maximum_flow_lpm',
        ),
        odd,
      ),
      async (path, fields, known) => {
        const { status } = await owner.post(path, new URLSearchParams(sendable({ ...fields, ...known, token })));
        expect([path, status < 500]).toEqual([path, true]);
      },
    ),
    RUNS,
  );
});
