import { describe, expect, test } from 'vitest';
import { beginDrill, drillInWords } from '../../src/desk/due/drill.ts';
import { BRAM, GUEST, INES, ODALYS, nightDesk } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

async function drillOn(desk: NightDesk): Promise<number> {
  const { id } = await desk.records.transaction((tx) => beginDrill(tx, 'Quillmere Basin Oxygen', desk.now()));
  await desk.pass('PT1S');
  return id;
}

async function shown(desk: NightDesk, id: number): Promise<string> {
  const { people } = await desk.look((tx) => tx.roster());
  const drill = await desk.look((tx) => tx.drill(id));
  return drill === null ? expect.fail('no such drill') : drillInWords(drill, people).join('\n');
}

describe('a drill', () => {
  test('texts and calls everyone on the list, on call or not, and says that it is a test', async () => {
    const desk = await nightDesk();
    await drillOn(desk);
    for (const phone of [BRAM, INES, ODALYS]) {
      expect(desk.carrier.textsTo(phone)).toEqual([
        expect.stringMatching(/^TEST of the night desk.*nothing is wrong.*HERE/),
      ]);
      expect(desk.carrier.calls.filter((call) => call.to === phone)).toHaveLength(1);
    }
    expect(desk.carrier.textsTo(GUEST)).toEqual([]);
  });

  test('shows who answered how fast, by their first answer, and who did not', async () => {
    const desk = await nightDesk();
    const id = await drillOn(desk);
    await desk.pass('PT41S');
    expect(await desk.text(INES, 'here')).toMatch(/test reached you/);
    await desk.pass('PT1M');
    await desk.text(INES, 'HERE');
    expect(await shown(desk, id)).toMatch(
      /Bram Tiddlecote +no answer\nInes Quarrow +answered after 42 s\nOdalys Fenwright +no answer/,
    );
  });

  test('opens no callout and no conversation', async () => {
    const desk = await nightDesk();
    await drillOn(desk);
    await desk.text(BRAM, 'Here!');
    await desk.pass('PT30M');
    expect(await desk.look((tx) => tx.latestConversation(BRAM))).toBeNull();
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('takes no danger for an answer', async () => {
    const desk = await nightDesk();
    const id = await drillOn(desk);
    expect(await desk.text(BRAM, 'my husband has blue lips')).toMatch(/\b911\b/);
    expect(await shown(desk, id)).toMatch(/Bram Tiddlecote +no answer/);
  });

  test('is over after an hour', async () => {
    const desk = await nightDesk();
    const id = await drillOn(desk);
    await desk.pass('PT1H1M');
    await desk.text(BRAM, 'here');
    expect(await shown(desk, id)).toMatch(/Bram Tiddlecote +no answer/);
  });

  test('held lately makes the monthly reminder needless', async () => {
    const desk = await nightDesk();
    await drillOn(desk);
    await desk.pass('PT160H');
    expect(desk.carrier.textsTo(ODALYS).filter((text) => text.includes('npm run drill'))).toEqual([]);
  });
});
