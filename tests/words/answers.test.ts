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

describe('amounts of several words', () => {
  test.each<[string, AnswerKind, number]>([
    ['an hour', 'hours', 1],
    ['a whole day', 'hours', 24],
    ['half the day', 'hours', 12],
    ['a day and a half', 'hours', 36],
    ['an hour and a quarter', 'hours', 1.25],
    ['one hour thirty minutes', 'hours', 1.5],
    ['an hour or two', 'hours', 1.5],
    ['45 minutes to an hour', 'hours', 0.88],
    ['half a dozen hours', 'hours', 6],
    ['cinco horas y media', 'hours', 5.5],
    ['tres cuartos de hora', 'hours', 0.75],
    ['medio día', 'hours', 12],
    ['un día y seis horas', 'hours', 30],
    ['a las diez de la noche', 'hours', 4],
    ['half a dozen', 'people', 6],
    ['media docena', 'people', 6],
    ['9 3', 'saturation', 93],
    ['nueve uno', 'saturation', 91],
    ['tow', 'ball', 2],
    ['its on ate', 'ball', 8],
  ])('"%s" to %s', (text, asked, answer) => {
    expect(hear(text, { asked, now: NOW }).answer).toBe(answer);
  });
});

describe('people listed by name are counted', () => {
  test.each([
    ['me and the missus', 2],
    ['mom, dad, my sister and me', 4],
    ['me, my wife and our two boys', 4],
    ['two adults and three kids', 5],
    ["it's me plus one", 2],
    ['me and three others', 4],
    ['the two of us, my brother and me', 2],
    ['there are 5 of us but only my wife and i use it', 2],
    ['yo y mis dos hijos', 3],
    ['mi mamá, mi papá y yo', 3],
    ['yo más uno', 2],
    ['los dos, mi vieja y yo', 2],
    ['just me, my husband has his own', 1],
  ])('"%s"', (text, answer) => {
    expect(hear(text, { asked: 'people' }).answer).toBe(answer);
  });
});

describe('what is taken back, denied or over gives way', () => {
  test.each<[string, AnswerKind, string | number]>([
    ['five, sorry, four', 'ball', 4],
    ['3, no, 2', 'people', 2],
    ['4... no 5', 'ball', 5],
    ['not 5, 6', 'ball', 6],
    ['no es 5, es 6', 'ball', 6],
    ['3, no, 2', 'flow-told', 2],
    ['94, hold on, that was the pulse i mean 96', 'saturation', 96],
    ['was 91 before, now 94', 'saturation', 94],
    ['94... no, subió, 95', 'saturation', 95],
    ['no, 94', 'saturation', 94],
    ['yes... wait no', 'yes-no', 'no'],
    ['absolutely not', 'yes-no', 'no'],
    ['claro que no', 'yes-no', 'no'],
    ["It isn't bubbling, no.", 'bubbling', 'no'],
    ['not the mask, the other one', 'worn', 'cannula'],
    ['no mask, just the prongs', 'worn', 'cannula'],
    ['mask, not the prongs', 'worn', 'mask'],
    ['mascarilla no, las puntas', 'worn', 'cannula'],
    ['mascarilla, no las puntas', 'worn', 'mask'],
    ['3, no, more like 2', 'severity', '2'],
  ])('"%s" to %s', (text, asked, answer) => {
    expect(hear(text, { asked }).answer).toBe(answer);
  });
});

describe('numbers that count nothing', () => {
  test.each<[string, AnswerKind, string | number]>([
    ['which one is the ball', 'ball', 'unsure'],
    ['they told me but it went in one ear and out the other', 'flow-told', 'unsure'],
    ['ok gracias, eres un ángel', 'ball', 'no-answer'],
    ['i took three aspirins for it', 'severity', 'no-answer'],
  ])('"%s" to %s', (text, asked, answer) => {
    expect(hear(text, { asked }).answer).toBe(answer);
  });
});

describe('how bad it is, on the scales people know, is never rounded down', () => {
  test.each([
    ['one out of three', '1'],
    ['uno de tres', '1'],
    ['2/3', '2'],
    ['4 out of 10', '2'],
    ['8 de 10', '3'],
    ['somewhat, so two', '2'],
    ['1 or 2', '2'],
  ])('"%s"', (text, answer) => {
    expect(hear(text, { asked: 'severity' }).answer).toBe(answer);
  });
});

test.each([
  ['7 8', 'now'],
  ['78, no, 92', 'now'],
  ['was 78, now 92', 'now'],
  ['78 before, 92 now', 'ask'],
])(
  'a low saturation is danger where a higher one is the answer, or digits are said one by one: "%s"',
  (text, danger) => {
    expect(hear(text, { asked: 'saturation' })).toMatchObject({ danger, signs: ['low-saturation'] });
  },
);

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
  ['lost track of time', 'hours'],
  ['no glasses on, its all a blur', 'ball'],
  ['it wont hold still long enough to say', 'ball'],
  ["can't read which one is which", 'saturation'],
  ['your guess is as good as mine', 'yes-no'],
  ['there are no marks on mine', 'water-level'],
  ['no traigo los lentes', 'ball'],
  ['tendría que mirar', 'yes-no'],
  ['se me fue la cuenta', 'hours'],
])('"%s" is unsure', (text, asked) => {
  expect(hear(text, { asked }).answer).toBe('unsure');
});

test('a text about something else answers nothing and keeps its topic', () => {
  expect(hear('when do you pick up the machine', { asked: 'ball' })).toMatchObject({
    answer: 'no-answer',
    topic: 'delivery-or-pickup',
  });
});
