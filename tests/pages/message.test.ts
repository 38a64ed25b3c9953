import { expect, test } from 'vitest';
import { BRAM, GUEST, LOWEN, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { A_WAV, MESSAGE_AT, leaveMessage } from './messages.ts';
import { A_PNG } from './pictures.ts';
import { Visitor, linkTo, theOwner } from './visitor.ts';

const PLAYER = /<audio[^>]* src="([^"]*)"/;

async function withMessage(bytes: Uint8Array = A_WAV): Promise<NightDesk> {
  const desk = await nightDesk({ pages: true });
  await desk.text(GUEST, 'I want to talk to a person');
  await leaveMessage(desk, bytes);
  return desk;
}

async function playedOn(visitor: Visitor, path: string): Promise<string> {
  const [, source = ''] = PLAYER.exec((await visitor.get(path)).html) ?? [];
  return source;
}

test('a caller’s message is played on the callout’s page, and fetched only then', async () => {
  const desk = await withMessage();
  const bram = new Visitor(desk);
  expect((await bram.get(linkTo(desk))).words).toContain('Message left on the phone at 02:10, 14 s');
  await bram.get(`${linkTo(desk)}/live`);
  expect(desk.carrier.looks).toEqual([]);
  const played = await fetch(`${desk.here}${await playedOn(bram, linkTo(desk))}`);
  expect(new Uint8Array(await played.arrayBuffer())).toEqual(A_WAV);
  expect([played.status, played.headers.get('content-type')]).toEqual([200, 'audio/wav']);
  expect(played.headers.get('content-security-policy')).toBe("default-src 'none'; sandbox");
  expect(desk.carrier.looks).toEqual([MESSAGE_AT]);
});

test.for([
  ['a page with a script', new TextEncoder().encode('<!doctype html><script>alert(1)</script>')],
  ['a picture', A_PNG],
  ['nothing', new Uint8Array()],
] as const)('%s in place of a message is not played', async ([, bytes]) => {
  const desk = await withMessage(bytes);
  const bram = new Visitor(desk);
  const shown = await bram.get(await playedOn(bram, linkTo(desk)));
  expect([shown.status, shown.words]).toEqual([404, expect.stringContaining('no message that can be shown safely')]);
  expect(shown.headers.get('content-type')).toMatch(/^text\/html/);
});

test('the owner hears it on the sheet; nobody by another callout’s link, or once the link no longer shows the case', async () => {
  const desk = await withMessage();
  const owner = await theOwner(desk);
  const [, sheet = ''] = /href="(\/night\/\d[^"]*)"/.exec((await owner.get('/night')).html) ?? [];
  expect((await owner.once(await playedOn(owner, sheet))).status).toBe(200);
  expect((await owner.once(await playedOn(owner, `${sheet}/live`))).status).toBe(200);

  const bram = new Visitor(desk);
  const own = linkTo(desk);
  const source = await playedOn(bram, own);
  await desk.text(LOWEN, 'I want to talk to a person too');
  expect((await bram.once(source.replace(own, linkTo(desk)))).status).toBe(404);
  expect((await bram.once(source)).status).toBe(200);
  await desk.text(BRAM, 'TAKE 1');
  await desk.text(BRAM, 'DONE 1 it is fine');
  expect((await bram.once(source)).status).toBe(404);
});
