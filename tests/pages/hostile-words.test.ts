import { expect, test } from 'vitest';
import { csvOf } from '../../src/pages/csv.ts';
import { BRAM, INES, LOWEN } from '../desk/night-desk.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { browserOf, hasChromium, pageOf } from './chromium.ts';
import { aFullNight, everyPage, signInAs } from './every-page.ts';
import { Visitor, linkTo, theOwner } from './visitor.ts';

const WITHIN_MS = 180_000;

/** What someone might write who wants a page to do something. `hit` would be seen. */
const HOSTILE = [
  `<script>hit=1</script>`,
  `"><img src=x onerror="hit=1">`,
  `'><svg/onload=hit=1>`,
  `</textarea></title><iframe srcdoc="<script>parent.hit=1</script>">`,
  `javascript:hit=1`,
  `{{hit=1}}\${hit=1}<!--`,
  `=HYPERLINK("http://elsewhere.example","x")`,
  `\u202E\u2066gnp.exe\u202C`,
].join(' ');

/** Names and places as hostile as they can be kept; each is told apart by its first letters. */
async function poison(desk: NightDesk): Promise<void> {
  const put = (what: string): string => `${what} ${HOSTILE}`;
  await desk.records.onTables(async ({ db }) => {
    await db
      .updateTable('rentals')
      .set({ guest_name: put('Guest') })
      .execute();
    await db.updateTable('rentals').set({ room: '"><i onload=hit=1>' }).execute();
    await db
      .updateTable('properties')
      .set({ street_address: '<script>hit=1</script>', entrance: put('Door') })
      .execute();
    for (const { id } of await db.selectFrom('properties').select('id').execute()) {
      await db
        .updateTable('properties')
        .set({ name: put(`House ${id}`) })
        .where('id', '=', id)
        .execute();
    }
    for (const { id } of await db.selectFrom('units').select('id').execute()) {
      await db
        .updateTable('units')
        .set({ tag: put(`Unit ${id}`) })
        .where('id', '=', id)
        .execute();
    }
    const model = await db.selectFrom('model_sheets').select('id').executeTakeFirstOrThrow();
    await db
      .updateTable('model_sheets')
      .set({ name: put('Model') })
      .where('id', '=', model.id)
      .execute();
    await db
      .updateTable('people')
      .set({ name: put('Bram') })
      .where('phone', '=', BRAM)
      .execute();
    await db
      .updateTable('people')
      .set({ name: put('Ines') })
      .where('phone', '=', INES)
      .execute();
  });
}

test.skipIf(!hasChromium)(
  'hostile words in every field that reaches a page are words there, and nothing else, and break no line',
  async () => {
    const desk = await aFullNight(`${HOSTILE} ${'w'.repeat(1600)}`.slice(0, 1600));
    await poison(desk);
    // Through the doors that people have: the guest's phone, and the technician's page.
    await desk.text(LOWEN, HOSTILE);
    const bram = new Visitor(desk);
    const taken = await bram.send(await bram.get(linkTo(desk)), 'TAKE');
    await bram.send(taken, 'TELL', { words: HOSTILE });
    await bram.send(await bram.get(linkTo(desk)), 'DONE', { words: `${HOSTILE} ${'n'.repeat(900)}` });
    await desk.doDue();

    const browser = await browserOf();
    const owner = await pageOf(await browser.newContext({ viewport: { width: 390, height: 844 } }));
    await signInAs(desk, owner);
    const wanted = encodeURIComponent(HOSTILE);
    const more = [
      `/night?words=${wanted}&from=${wanted}&property=${wanted}&matter=${wanted}&below=${wanted}`,
      `/demo?guest=${wanted}`,
      `/night/${wanted}`,
      `/c/${wanted}`,
      `/password/${wanted}`,
    ];
    const named = await everyPage(desk, owner);
    for (const path of [...named.map((each) => each.path), ...more]) {
      await owner.goto(desk.here + path);
      const found = await owner.evaluate(() => ({
        hit: 'hit' in globalThis,
        scripts: [...document.scripts].map((script) => script.getAttribute('src')),
        strangers: document.querySelectorAll('iframe, img, object, embed, [onerror], [onload], [srcdoc]').length,
        addresses: [...document.querySelectorAll('[href], [action]')]
          .map((each) => each.getAttribute('href') ?? each.getAttribute('action') ?? '')
          .filter((to) => !/^(\/|#|tel:\+\d+$)/.test(to)),
        wider: document.documentElement.scrollWidth - document.documentElement.clientWidth,
      }));
      expect([path, found]).toEqual([
        path,
        { hit: false, scripts: expect.toSatisfy(onlyOurs), strangers: 0, addresses: [], wider: 0 },
      ]);
    }
    await owner.goto(desk.here + (named.find(({ name }) => name === '/night/:id')?.path ?? ''));
    const sheet = await owner.textContent('main');
    for (const words of ['Guest', 'House', 'Unit']) expect(sheet).toContain(`${words} `);
    expect(sheet).toContain(HOSTILE);
  },
  WITHIN_MS,
);

const onlyOurs = (scripts: readonly (string | null)[]): boolean => scripts.every((src) => src === '/assets/live.js');

test('what a form is sent is shown again as words: a phone number that is a script', async () => {
  const desk = await aFullNight();
  const visitor = new Visitor(desk);
  const answered = await visitor.send(await visitor.get('/sign-in'), 'password', { phone: HOSTILE, password: HOSTILE });
  expect(answered.status).toBe(401);
  expect(answered.html).not.toMatch(/<script>hit|<img|<svg\/|<iframe/);
});

test('forms that are too large, broken or of another kind are refused, and the desk goes on', async () => {
  const desk = await aFullNight();
  const owner = await theOwner(desk);
  const large = new URLSearchParams({ words: 'x'.repeat(40_000) });
  expect((await owner.post('/sign-in', large)).status).toBe(413);
  expect((await owner.post('/sign-in', new URLSearchParams(), { 'Content-Type': 'application/json' })).status).toBe(
    403,
  );
  expect((await owner.post('/c/%E0%A4%A', new URLSearchParams())).status).toBe(400);
  expect((await owner.once('/night/%00')).status).toBe(404);
  expect((await owner.get('/night')).status).toBe(200);
});

test('a CSV keeps formulas, quotes and line breaks as words', () => {
  const rows = [[HOSTILE, `=1+1`, '+1', '-2', '@x', '\t=1', 'a,"b"\nc', null, -3.5] as const];
  expect(csvOf(['name'], rows)).toBe(
    ['name\r\n', `"${HOSTILE.replaceAll('"', '""')}",'=1+1,'+1,-2,'@x,'\t=1,"a,""b""\nc",,-3.5\r\n`].join(''),
  );
});
