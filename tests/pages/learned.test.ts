import { expect, test } from 'vitest';
import { GUEST, LOWEN, nightDesk } from '../desk/night-desk.ts';
import { theOwner } from './visitor.ts';

test('what was not understood and where guests give up stand on a page of the owner’s, harmless', async () => {
  const desk = await nightDesk({ pages: true });
  const hostile = 'zxqv <b onmouseover=1>wvut</b>';
  await desk.text(GUEST, 'it won’t start');
  await desk.text(GUEST, hostile);
  await desk.text(GUEST, hostile);
  await desk.text(LOWEN, 'it won’t start');
  await desk.pass('PT8H');
  const shown = await (await theOwner(desk)).get('/learned');
  expect(shown.words).toContain(`2 ${hostile} en power.listen-at-the-switch`);
  expect(shown.html).not.toContain('<b onmouseover');
  expect(shown.words).toMatch(/power\.listen-at-the-switch en 2 2 1/);
  expect(shown.words).toContain('None of 12 that were rented.');
});

test('a unit that fails night after night is to be pulled for service, with the counts that say so', async () => {
  const desk = await nightDesk({ pages: true });
  for (let night = 0; night < 4; night += 1) {
    for (const words of ['it won’t start', 'one long tone', 'one long tone', 'one long tone', 'yes']) {
      await desk.text(GUEST, words);
    }
    await desk.text('+19705550190', 'take');
    for (const { id } of (await desk.look(async (tx) => tx.calloutsOfferedTo(1))) ?? []) {
      await desk.text('+19705550190', `done ${id} brought another`);
    }
    await desk.pass('PT24H');
  }
  const owner = await theOwner(desk);
  const shown = await owner.get('/learned?days=90');
  expect(shown.words).toMatch(/Unit What to do Faults .*NB-01 Pull for service \d/);
});
