import { describe, expect, test } from 'vitest';
import { BOOK, GUEST, LOWEN, entriesOf } from '../desk/night-desk.ts';
import { callDesk } from './call-desk.ts';
import type { Mode } from './play-call.ts';
import { playToTheEnd } from './play-call.ts';

/** How a guest brings each flow up, by text; the call goes on from there, so that every flow can be played by keys alone. */
const OPENINGS: Readonly<Record<string, readonly [en: string, es: string]>> = {
  air: ['no air comes out of the prongs', 'no sale aire por las puntas'],
  alarm: ['it beeps again and again', 'pita una y otra vez'],
  'check-back': ['the unit does not start, no sound at all', 'el equipo no enciende, no suena nada'],
  comfort: ['the unit is very noisy', 'el equipo hace mucho ruido'],
  danger: ['my husband cannot breathe', 'mi esposo no puede respirar'],
  'how-much': ['what setting should it be on?', '¿en qué número debe ir?'],
  humidifier: ['the water bottle is not bubbling', 'la botella no burbujea'],
  opening: ['hello', 'hola'],
  person: ['I want to talk to a person', 'quiero hablar con una persona'],
  power: ['the unit does not start, no sound at all', 'el equipo no enciende, no suena nada'],
  refill: ['I filled the water bottle', 'rellené la botella'],
  'set-up': ['set up for one person', '¿cómo lo armo para una persona?'],
  symptoms: ['hello', 'hola'],
  tubing: ['the cannula is too loose', 'las puntas no me quedan bien'],
  visits: ['the unit was not delivered yet', 'todavía no han entregado el equipo'],
};

test('every flow has an opening here', () => {
  expect(Object.keys(OPENINGS)).toEqual(BOOK.flows.map(({ flow }) => flow).toSorted());
});

const MODES: readonly Mode[] = ['keys', 'speech', 'mixed'];
/** Which offer is taken: always the first or the last, and by turns. */
const WAYS: readonly ((turn: number, options: number) => number)[] = [
  () => 0,
  (_, options) => options - 1,
  (turn, options) => (turn * 7 + 3) % Math.max(1, options),
];

describe.each(Object.entries(OPENINGS))('%s', (flow, words) => {
  test.each(MODES.flatMap((mode) => (['en', 'es'] as const).map((lang) => [mode, lang] as const)))(
    'is played to the end of the call with %s, in %s',
    async (mode, lang) => {
      for (const [index, choose] of WAYS.entries()) {
        const exchange = await callDesk();
        const from = index === 2 ? LOWEN : GUEST;
        await exchange.desk.records.transaction(async (tx) => tx.savePhone({ ...(await tx.lockPhone(from)), lang }));
        await exchange.desk.text(from, words[lang === 'en' ? 0 : 1]);
        if (flow === 'symptoms') await exchange.desk.text(from, '5');
        if (flow === 'check-back') {
          await exchange.desk.text(from, lang === 'en' ? 'one short beep' : 'un pitido corto');
          await exchange.pass('PT16M');
        }
        const caller = await exchange.call(from);
        await playToTheEnd(caller, mode, choose);
        expect(caller.heard[0]).toMatch(lang === 'en' ? /^This is the night desk/ : /^Le habla la mesa nocturna/);
        const steps = (await entriesOf(exchange.desk, from)).flatMap(({ step }) => step ?? []);
        expect(
          steps.some((step) => step.startsWith(`${flow}.`)),
          steps.join(' '),
        ).toBe(true);
      }
    },
    60_000,
  );
});
