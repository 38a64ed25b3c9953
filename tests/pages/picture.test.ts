import { expect, test } from 'vitest';
import { BRAM, GUEST, LOWEN, nightDesk } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { A_PNG, ONE_PICTURE } from './pictures.ts';
import { Visitor, linkTo, theOwner } from './visitor.ts';

const REFERENCE = ONE_PICTURE.MediaUrl0;
const PICTURE_LINK = /href="([^"]*\/picture\/[^"]*)"/;

async function withPicture(bytes: Uint8Array | null = A_PNG): Promise<NightDesk> {
  const desk = await nightDesk({ pages: true });
  if (bytes !== null) desk.carrier.media.set(REFERENCE, bytes);
  await desk.text(GUEST, 'I want to talk to a person', ONE_PICTURE);
  return desk;
}

async function linkedFrom(visitor: Visitor, path: string): Promise<string> {
  const [, link = ''] = PICTURE_LINK.exec((await visitor.get(path)).html) ?? [];
  return link;
}

test('a guest’s picture is fetched when the technician opens it, and neither when it comes nor with the page', async () => {
  const desk = await withPicture();
  const bram = new Visitor(desk);
  expect((await bram.get(linkTo(desk))).words).toContain('Picture 1 from the guest');
  await bram.get(`${linkTo(desk)}/live`);
  expect(desk.carrier.looks).toEqual([]);
  const link = await linkedFrom(bram, linkTo(desk));
  const shown = await fetch(`${desk.here}${link}`);
  expect(shown.status).toBe(200);
  expect(new Uint8Array(await shown.arrayBuffer())).toEqual(A_PNG);
  expect(shown.headers.get('content-type')).toBe('image/png');
  expect(shown.headers.get('x-content-type-options')).toBe('nosniff');
  expect(shown.headers.get('content-security-policy')).toBe("default-src 'none'; sandbox");
  expect(shown.headers.get('cache-control')).toBe('no-store');
  expect(desk.carrier.looks).toEqual([REFERENCE]);
});

test.for([
  ['a page with a script', '<!doctype html><script>alert(1)</script>'],
  ['a drawing that can run things', '<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>'],
  ['a program', 'MZ\u0090'],
  ['nothing', ''],
] as const)('%s that calls itself a picture is not shown', async ([, content]) => {
  const desk = await withPicture(new TextEncoder().encode(content));
  const bram = new Visitor(desk);
  const shown = await bram.get(await linkedFrom(bram, linkTo(desk)));
  expect(shown.status).toBe(404);
  expect(shown.words).toContain('no picture that can be shown safely');
  expect(shown.headers.get('content-type')).toMatch(/^text\/html/);
  expect(shown.html).not.toContain('alert(1)');
});

test('a picture that the phone company no longer has is said to be gone', async () => {
  const desk = await withPicture(null);
  const bram = new Visitor(desk);
  const shown = await bram.get(await linkedFrom(bram, linkTo(desk)));
  expect([shown.status, shown.words]).toEqual([404, expect.stringContaining('no longer has the picture')]);
});

test('the owner sees it on the sheet; nobody sees it by another callout’s link, or once the link no longer shows the case', async () => {
  const desk = await withPicture();
  const owner = await theOwner(desk);
  const [, sheet = ''] = /href="(\/night\/\d[^"]*)"/.exec((await owner.get('/night')).html) ?? [];
  expect((await owner.once(await linkedFrom(owner, sheet))).status).toBe(200);

  const bram = new Visitor(desk);
  const link = await linkedFrom(bram, linkTo(desk));
  const own = linkTo(desk);
  await desk.text(LOWEN, 'I want to talk to a person too');
  const other = linkTo(desk);
  expect(other).not.toBe(own);
  expect((await bram.once(link.replace(own, other))).status).toBe(404);
  expect((await bram.once(link)).status).toBe(200);
  await desk.text(BRAM, 'TAKE 1');
  await desk.text(BRAM, 'DONE 1 it is fine');
  expect((await bram.once(link)).status).toBe(404);
});
