import { expect, test } from 'vitest';
import {
  acclimatisedSaturationPct,
  againstUsual,
  arrivedSaturationPct,
  usualSaturation,
} from '../../src/care/usual-saturation.ts';

// Source, read: Med Clin (Barc) 2005;124:172, abstract, for the two equations; the values computed from them.
// https://bvbvf1.bib-bvb.de/vufind/PrimoRecord/cdi_proquest_miscellaneous_67451871 . Weak: coefficients of one figure.
test.for([
  [2000, 94.6, 97.4],
  [2500, 92.3, 96.2],
  [3000, 89.5, 94.6],
  [3500, 86.2, 92.6],
] as const)(
  'at %i m the equations give %f%% newly arrived and %f%% acclimatised',
  ([metres, arrived, acclimatised]) => {
    expect(arrivedSaturationPct(metres)).toBeCloseTo(arrived, 1);
    expect(acclimatisedSaturationPct(metres)).toBeCloseTo(acclimatised, 1);
  },
);

// Source, read: CDC Yellow Book 2024 (Hackett, Shlim): 88 to 91% on acute exposure to about 3,050 m. Address as read:
// http://wwwnc.cdc.gov/travel/yellowbook/2014/chapter-2-the-pre-travel-consultation/for-the-record-a-history-of-the-definition-and-management-of-altitude-illness
test('the newly arrived at 3,050 m are within the 88 to 91% of the CDC', () => {
  expect(arrivedSaturationPct(3050)).toBeGreaterThan(88);
  expect(arrivedSaturationPct(3050)).toBeLessThan(91);
});

// Source, read: Pomidori 2009, High Alt Med Biol 10:233, lowland trekkers at 3,500 m: 90.9% when measured, 86.4% over a day.
// https://moh-it.elsevierpure.com/en/publications/the-hypoxic-profile-during-trekking-to-the-pyramid-laboratory
test('both averages of lowland trekkers at 3,500 m are usual there', () => {
  expect(againstUsual(90.9, 3500)).toBe('usual');
  expect(againstUsual(86.4, 3500)).toBe('usual');
});

// Source, computed: half of the last printed figure, 0.00005 h + 0.0000005 h², is 6.3 points at 3,500 m.
test('the weakness of the printed coefficients is told: over 6 points at 3,500 m', () => {
  expect(usualSaturation(3500).arrivedMayBeOffPoints).toBeCloseTo(6.3, 1);
  expect(usualSaturation(3500).acclimatisedMayBeOffPoints).toBeCloseTo(0.8, 1);
});
