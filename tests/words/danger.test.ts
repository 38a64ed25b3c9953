import { describe, expect, test } from 'vitest';
import { hear } from './words.ts';

describe('danger at this moment', () => {
  test.each([
    ['hes not breathing', 'breathing'],
    ['she cant catch her breath even sitting still', 'breathing'],
    ['blue lips', 'cyanosis'],
    ['my wife has blue lips', 'cyanosis'],
    ['labios azules', 'cyanosis'],
    ['lips like blueberries', 'cyanosis'],
    ['her fingernails have gone the color of slate', 'cyanosis'],
    ['there is an elephant on my chest', 'chest-pain'],
    ['he put his shoes in the fridge and asked me who i was', 'confusion'],
    ['grandpa keeps falling over', 'unsteady'],
    ['i cannot wake my husband', 'unresponsive'],
    ['coughing up pink foam', 'frothy-cough'],
    ['sat 72 on the finger', 'low-saturation'],
    ['grandma lit a cigarette with the oxygen on', 'flame'],
    ['the curtain is on fire', 'fire'],
    ['there is a fire', 'fire'],
    ['hay fuego', 'fire'],
    ['no le entra el aire', 'breathing'],
    ['tiene los labios morados', 'cyanosis'],
    ['no puedo despertar a mi papá', 'unresponsive'],
    ['está convulsionando en el piso', 'seizure'],
    ['sorry to bother you, no puedo respirar, gracias', 'breathing'],
  ])('is heard in "%s"', (text, sign) => {
    const { danger, signs } = hear(text);
    expect({ danger, named: signs.includes(sign as never) }).toEqual({ danger: 'now', named: true });
  });

  test('is carbon monoxide when several are ill beside a heater, though nobody names it', () => {
    expect(hear('all four of us have headaches since we lit the gas heater')).toMatchObject({
      danger: 'now',
      signs: expect.arrayContaining(['carbon-monoxide']),
    });
  });

  test('is a dead unit with someone who depends on it', () => {
    expect(hear('machine is dead and my mother cannot be without it').danger).toBe('now');
  });

  test('is heard in one clause of a long chatty text', () => {
    const chat = 'we had a lovely dinner and the stars were out and the machine hums along nicely ';
    expect(hear(`${chat}, anyway my wife is fighting for every breath, what is checkout`).danger).toBe('now');
  });

  test('is not softened by false reassurance', () => {
    expect(hear("she's not breathing right, i'm sure it's nothing").danger).not.toBe('none');
  });
});

describe('danger to ask about', () => {
  test.each(['HELP', 'sos', 'AYUDA'])('is heard in %s alone, with its keyword', (text) => {
    expect(hear(text)).toMatchObject({ danger: 'ask', signs: ['unclear'], keyword: 'help' });
  });

  test.each([
    'yesterday i had a twinge in my chest, gone since',
    'what if she stops breathing in her sleep',
    'reading 86 on the oximeter',
    'can i take a sleeping pill with the oxygen',
    'me duele la cabeza y tengo náuseas desde que llegamos',
  ])('is heard in "%s"', (text) => {
    expect(hear(text).danger).toBe('ask');
  });

  test('is a denied sign beside something that worries, and not a plain denial', () => {
    expect(hear('no chest pain but something is not right with him').danger).toBe('ask');
    expect(hear('no chest pain or anything').danger).toBe('none');
  });
});

describe('no danger', () => {
  test.each([
    'this view took my breath away',
    'im dying of boredom whats the wifi',
    'the machine is choking on something',
    'there is no power',
    'no prende',
    'al lado de la cama a la izquierda',
    'yes 911 is coming',
    'room 86, when do you come get it',
    'we are at 9,600 ft and the battery is at 80%',
    'the unit says purity 89 percent',
    'nobody is short of breath, nobody is blue',
    'me muero de hambre',
    'la máquina tose como un fumador viejo',
  ])('is heard in "%s"', (text) => {
    expect(hear(text).danger).toBe('none');
  });
});

test('INFO is a keyword and no danger', () => {
  expect(hear('INFO')).toMatchObject({ keyword: 'help', danger: 'none' });
});

test('the words that decided are quoted as the guest wrote them', () => {
  expect(hear('halfway from 3 to 4 i think, and grandpa keeps falling over', { asked: 'ball' }).why).toEqual([
    'grandpa keeps falling over',
    '3 to 4',
  ]);
});
