import { describe, expect, test } from 'vitest';
import type { Conversation } from '../../src/desk/records.ts';
import { ownFolder } from '../carrier/desk-on-a-port.ts';
import { DOES_NOT_START, LITTLE_QUESTION, littleBook } from './little-flow.ts';
import { BRAM, GUEST, conversationOf, entriesOf, nightDesk, openCalloutsOf } from './night-desk.ts';
import type { NightDesk } from './night-desk.ts';

const BLUE_LIPS = 'my husband has blue lips';
const OTHER_GUEST = '+19705550102';

describe('flows edited while a conversation runs', () => {
  test('leave it on the version it began with, and new ones begin with the edited flows', async () => {
    const folder = await ownFolder();
    const before = await nightDesk({ folder, book: littleBook() });
    await before.text(GUEST, DOES_NOT_START);
    const desk = await nightDesk({ folder, book: littleBook('Is the plug in?') });
    expect(await desk.text(GUEST, 'say that again', { MessageSid: 'SMa' })).toBe(LITTLE_QUESTION);
    expect(await desk.text(OTHER_GUEST, DOES_NOT_START, { MessageSid: 'SMb' })).toBe('Is the plug in?');
    expect(await desk.text(GUEST, 'yes', { MessageSid: 'SMc' })).toBe('Good night then.');
  });

  test('still say an emergency in today’s words', async () => {
    const folder = await ownFolder();
    const before = await nightDesk({ folder, book: littleBook() });
    await before.text(GUEST, DOES_NOT_START);
    const edited = littleBook();
    const first = { en: 'Call {emergency-number} at once, by voice call.', es: 'Llame ya al {emergency-number}.' };
    const desk = await nightDesk({ folder, book: { ...edited, emergency: { ...edited.emergency, first } } });
    expect(await desk.text(GUEST, BLUE_LIPS, { MessageSid: 'SMa' })).toMatch(/^Call 911 at once/);
  });
});

describe.each([
  ['is no state', { state: '{"value":"gone"}' }],
  ['names a step that is gone', { state: '{"status":"active","value":{"matter":{"little":"gone"}},"context":{}}' }],
  ['is broken off', { state: '{"status":"act' }],
  ['is another engine’s', { engine: 4_711 }],
] as const)('a stored state that %s', (_, changes: Partial<Conversation>) => {
  async function standing(): Promise<NightDesk> {
    const desk = await nightDesk({ book: littleBook() });
    await desk.text(GUEST, DOES_NOT_START);
    const conversation = await conversationOf(desk, GUEST);
    await desk.records.transaction((tx) => tx.saveConversation({ ...conversation, ...changes }));
    return desk;
  }

  test('is no hindrance to the emergency reply', async () => {
    const desk = await standing();
    expect(await desk.text(GUEST, BLUE_LIPS)).toMatch(/^Call 911 now/);
    expect(desk.carrier.textsTo(BRAM)).toHaveLength(1);
  });

  test('brings an apology and a new start, is logged, and the guest’s words are kept', async () => {
    const desk = await standing();
    expect(await desk.text(GUEST, DOES_NOT_START)).toMatch(/^Sorry, I lost our place.*\n?.*lamp burn\?$/);
    expect(desk.log()).toContain('could not be restored');
    expect(await entriesOf(desk, GUEST)).toHaveLength(4);
    expect(await desk.text(GUEST, 'yes')).toBe('Good night then.');
  });

  test('does not stop the work that is due on it', async () => {
    const desk = await standing();
    await desk.pass('PT5H');
    expect((await conversationOf(desk, GUEST)).ending).toBe('gave-up');
    expect(await openCalloutsOf(desk, GUEST)).toEqual([]);
  });
});
