import { describe, expect, test } from 'vitest';
import type { AnswerKind } from '../../src/words/heard.ts';
import { hear } from './words.ts';

const NOW = '2026-11-25T02:00:00-07:00';
const LEVELS = ['empty', 'below-min', 'between', 'above-max'];

describe('a menu reply names its choice', () => {
  test.each([
    ['2', 'below-min'],
    ['B', 'below-min'],
    ['second one', 'below-min'],
    ['la segunda', 'below-min'],
    ['option 2', 'below-min'],
    ['the last', 'above-max'],
    ['la última de la lista', 'above-max'],
    ['between the lines', 'between'],
  ])('"%s"', (text, value) => {
    expect(hear(text, { asked: 'water-level', choices: LEVELS })).toMatchObject({ answer: value, topic: null });
  });
});

describe('numbers answer', () => {
  test.each<[string, AnswerKind, string | number]>([
    ['four', 'ball', 4],
    ['between 2 n 3', 'ball', 2.5],
    ['one and a half more or less', 'ball', 1.5],
    ['to and a half', 'ball', 2.5],
    ['six, no wait, seven', 'ball', 7],
    ["room 86, 9,600 feet, and the ball's on three", 'ball', 3],
    ['dos y medio', 'ball', 2.5],
    ['sevnty eight', 'saturation', 78],
    ['heart rate 88, sats ninety, room 80', 'saturation', 90],
    ['noventa y tres', 'saturation', 93],
    ['since ten', 'hours', 4],
    ['desde las diez de la noche', 'hours', 4],
    ['since midnight', 'hours', 2],
    ['half an hour', 'hours', 0.5],
    ['40 minutes', 'hours', 0.67],
    ['my wife and I both use it', 'people', 2],
    ['solo yo', 'people', 1],
    ['dos adultos y un nene', 'people', 3],
    ['una hora y treinta', 'hours', 1.5],
    ['they said three at nite', 'flow-told', 3],
  ])('"%s" to %s', (text, asked, answer) => {
    expect(hear(text, { asked, now: NOW }).answer).toBe(answer);
  });
});

describe('values answer in their own words', () => {
  test.each<[string, AnswerKind, string]>([
    ['machine makes one long noise that never ends', 'switch-on-sound', 'continuous-tone'],
    ['un pitido largo que no corta', 'switch-on-sound', 'continuous-tone'],
    ['un tono continuo', 'switch-on-sound', 'continuous-tone'],
    ['un pitido continuo', 'switch-on-sound', 'continuous-tone'],
    ['un pitido corto', 'switch-on-sound', 'short-beep'],
    ['un solo bip al prenderla', 'switch-on-sound', 'short-beep'],
    ['silent as the grave', 'switch-on-sound', 'silence'],
    ['nope', 'yes-no', 'no'],
    ['claro que sí', 'yes-no', 'yes'],
    ["haven't yet, looking for my slippers", 'tried', 'not-tried'],
    ['that did it', 'tried', 'yes'],
    ['mask w bag', 'worn', 'mask'],
    ['las dos cosas', 'worn', 'both'],
    ['la que tapa nariz y boca', 'worn', 'mask'],
    ['mascarilla no, las puntitas', 'worn', 'cannula'],
    ['le hice como dijo y todavía pita', 'tried', 'no'],
    ['no pude, el mueble tapa el enchufe', 'tried', 'not-tried'],
    ['le eché de más, pasa el máximo', 'water-level', 'above-max'],
    ["we haven't got one of those finger clips", 'saturation', 'no-device'],
  ])('"%s" to %s', (text, asked, answer) => {
    expect(hear(text, { asked }).answer).toBe(answer);
  });
});

test.each<[string, AnswerKind]>([
  ['i dont know', 'ball'],
  ['no sabría decirle', 'switch-on-sound'],
  ['hard to say', 'bubbling'],
])('"%s" is unsure', (text, asked) => {
  expect(hear(text, { asked }).answer).toBe('unsure');
});

test('a text about something else answers nothing and keeps its topic', () => {
  expect(hear('when do you pick up the machine', { asked: 'ball' })).toMatchObject({
    answer: 'no-answer',
    topic: 'delivery-or-pickup',
  });
});
