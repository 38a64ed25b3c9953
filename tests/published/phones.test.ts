import { getExampleNumber } from 'libphonenumber-js/min';
import type { CountryCode } from 'libphonenumber-js/min';
import examples from 'libphonenumber-js/mobile/examples';
import { expect, test } from 'vitest';
import { senderOf } from '../../src/carrier/phone.ts';
import { phoneOf } from '../../src/reading/phone.ts';

// Source: the example mobile numbers, one for each country, that Google's libphonenumber publishes with its metadata,
// as packed in libphonenumber-js (libphonenumber-js/mobile/examples).
const COUNTRIES = Object.keys(examples) as CountryCode[];

test('the example number of every country comes out in E.164, from E.164 and from international writing', () => {
  expect(COUNTRIES.length).toBeGreaterThan(200);
  const wrong = COUNTRIES.filter((country) => {
    const number = getExampleNumber(country, examples);
    return (
      number === undefined ||
      phoneOf(number.number) !== number.number ||
      phoneOf(number.formatInternational()) !== number.number ||
      senderOf(number.number).kind !== 'phone'
    );
  });
  expect(wrong).toEqual([]);
});

test('the US example with a digit more or less is no phone number', () => {
  const { number } = getExampleNumber('US', examples) ?? { number: '' };
  expect(phoneOf(number)).toBe(number);
  expect(phoneOf(`${number}0`)).toBe(null);
  expect(phoneOf(number.slice(0, -1))).toBe(null);
});

// Source: the README of libphonenumber-js, "Strictness" and "Formatting".
test('the README’s example is read as the README says, and not out of a sentence', () => {
  expect(phoneOf('(213) 373-4253')).toBe('+12133734253');
  expect(phoneOf('+1 213 373 4253')).toBe('+12133734253');
  expect(phoneOf('My phone number is (213) 373-4253 and my hair is blue')).toBe(null);
});

// Source: the numbers 555-0100 to 555-0199 are set aside for fiction (North American Numbering Plan, from memory).
test('numbers kept for fiction, as the demo’s, are taken', () => {
  expect(phoneOf('(970) 555-0100')).toBe('+19705550100');
  expect(phoneOf('970-555-0199')).toBe('+19705550199');
});
