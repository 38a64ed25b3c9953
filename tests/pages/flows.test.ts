import { expect, test } from 'vitest';
import { BOOK, nightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';

test('every flow has its chart and its wording, step by step, in both languages', async () => {
  const owner = await theOwner(await nightDesk({ pages: true }));
  const list = await owner.get('/flows');
  for (const { flow, matter, steps } of BOOK.flows) {
    expect(list.html).toContain(`href="/flows/${flow}"`);
    const shown = await owner.get(`/flows/${flow}?lang=es`);
    expect([flow, shown.status]).toEqual([flow, 200]);
    expect(shown.words).toContain(`${matter}: the flow ${flow}`);
    expect(shown.html).toContain(`aria-label="The chart of ${flow}"`);
    for (const step of Object.values(steps)) {
      for (const words of [step.ask?.en, step.ask?.es, step.tell?.en, step.tell?.es]) {
        if (words !== undefined) expect(shown.words).toContain(words.replaceAll(/\s+/g, ' ').trim());
      }
    }
  }
  expect((await owner.get('/flows/constructor')).status).toBe(404);
});

test('it is said plainly what no clinician has reviewed, and who reviewed what was', async () => {
  const unreviewed = await (await theOwner(await nightDesk({ pages: true }))).get('/flows');
  expect(
    unreviewed.words.match(/Nobody has reviewed it\. It needs the sign-off of a licensed clinician/g),
  ).toHaveLength(2);
  const reviewed = { by: 'Dr. Ilka Vennmorrow', on: '2026-11-01' };
  const book = { ...BOOK, limits: { ...BOOK.limits, reviewed } };
  const shown = await (await theOwner(await nightDesk({ pages: true, book }))).get('/flows');
  expect(shown.words).toContain('Limits Reviewed by Dr. Ilka Vennmorrow on 2026-11-01.');
  expect(shown.words.match(/Nobody has reviewed it\./g)).toHaveLength(1);
  expect(shown.words).toMatch(/flame distance ft 10 ft published Massachusetts home oxygen safety page/);
});

test('the box shows what a text would be heard as, and by which words; nothing is kept of it', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  const page = await owner.get('/flows');
  const danger = await owner.send(page, 'Hear it', { text: 'my husbands lips are blue' });
  expect(danger.words).toMatch(/Danger Heard, in English: danger now \(cyanosis\)/);
  expect(danger.html).toContain('<mark>lips are blue</mark>');
  const answer = await owner.send(page, 'Hear it', {
    text: 'un tono que no para',
    lang: 'es',
    asked: 'switch-on-sound',
  });
  expect(answer.words).toMatch(/Heard, in Spanish: .*answer continuous tone/);
  const hostile = await owner.send(page, 'Hear it', {
    text: '<script>hit=1</script>',
    asked: 'constructor',
    lang: 'xx',
  });
  expect(hostile.status).toBe(200);
  expect(hostile.html).not.toContain('<script>hit');
  expect((await owner.get('/night')).words).toContain('Nothing is written here.');
  expect(desk.log()).not.toContain('lips are blue');
});

test('what came of edited files is said where the owner looks, and a check is begun by a button', async () => {
  const desk = await nightDesk({ pages: true });
  const owner = await theOwner(desk);
  expect((await owner.get('/flows')).words).toContain('Nothing was checked since the desk was started.');
  desk.checks.note({ taken: false, reason: 'power.yaml:12:5: unknown step <b>nowhere</b>' });
  const refused = await owner.get('/flows');
  expect(refused.words).toContain('the files are refused. The desk goes on with the flows it has.');
  expect(refused.html).toContain('power.yaml:12:5: unknown step &lt;b>nowhere&lt;/b>');
  desk.checks.note({ taken: true, hash: 'x' });
  expect((await owner.get('/flows')).words).toContain('nothing wrong was found. Edited files were taken up.');
});
