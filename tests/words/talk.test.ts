import { describe, expect, test } from 'vitest';
import { hear } from './words.ts';

test.each(['STOP', 'stop', 'UNSUBSCRIBE', 'opt out', 'Cancel.', 'REVOKE'])('"%s" alone opts out', (text) => {
  expect(hear(text).keyword).toBe('stop');
});

test('a carrier word inside a wish is no keyword', () => {
  expect(hear('stop the beeping').keyword).toBeNull();
  expect(hear('can you help me set it up').keyword).toBeNull();
});

describe('wishes about the conversation', () => {
  test.each([
    ['can I talk to someone', 'person'],
    ['agent', 'person'],
    ['0', 'person'],
    ['quiero hablar con alguien', 'person'],
    ['go back', 'back'],
    ['atrás', 'back'],
    ['say that again', 'again'],
    ['no entendí la pregunta', 'again'],
  ])('"%s" is %s', (text, move) => {
    expect(hear(text).move).toBe(move);
  });
});

describe('places', () => {
  test.each([
    ['room 214', { room: '214' }],
    ['rm 12B', { room: '12B' }],
    ["we're in 305", { room: '305' }],
    ['habitación 12', { room: '12' }],
    ['nb07', { tag: 'NB-07' }],
    ['tag number nb 7', { tag: 'NB-07' }],
    ['its NB-12 in room 9', { room: '9', tag: 'NB-12' }],
    ['hello', {}],
  ])('"%s"', (text, place) => {
    expect(hear(text).place).toEqual(place);
  });
});

describe('what opens a conversation', () => {
  test.each([
    ['it wont turn on', 'no-power'],
    ['no bubbles in the jar', 'humidifier-not-bubbling'],
    ['the hose came off', 'tubing-kink-or-disconnected'],
    ['when do you pick up the machine', 'delivery-or-pickup'],
    ['se le acabó el agua al frasco', 'humidifier-empty'],
    ['huele a plástico nuevo', 'smell-nonspecific'],
    ['muchas gracias', 'thanks-or-ok'],
    ['no power', 'no-power'],
    ['there is no power', 'no-power'],
    ['no prende', 'no-power'],
  ])('"%s" is %s', (text, topic) => {
    expect(hear(text).topic).toBe(topic);
  });
});

test('the language is guessed, and kept when it is known', () => {
  expect(hear('dónde dejo el equipo').lang).toBe('es');
  expect(hear('where do I leave it').lang).toBe('en');
  expect(hear('ok', { lang: 'es' }).lang).toBe('es');
});
