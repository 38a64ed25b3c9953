import { expect, test } from 'vitest';
import { MASK_MINIMUM_LPM, maskSettingFor } from '../../src/care/setting.ts';
import { loadBook } from '../../src/flow/load.ts';
import { PROFILES } from '../../src/flow/profiles.ts';
import { flowsOf } from '../../src/flow/turn.ts';
import { walk } from '../../src/flow/walk.ts';

const { book } = loadBook();

// Feet between oxygen and flame: NFPA 5 (nfpa.org), Portland Fire & Rescue 8 (docslib.org/doc/12598402), Massachusetts 10,
// unit and tubing (mass.gov/info-details/home-oxygen-safety), all read. West Virginia says 15: local rules come first.
test.each([
  ['NFPA', 5],
  ['Portland', 8],
  ['Massachusetts', 10],
])('the distance from flame that the desk names covers what %s asks', (_where, feet) => {
  expect(book.limits.limits['flame-distance-ft']?.value).toBeGreaterThanOrEqual(feet);
});

// A non-rebreather works at 10 to 15 L/min; below 10 the bag does not fill and breath is breathed again
// (University of Aberdeen, abdn.ac.uk/medical/elf, oxygen therapy, read).
test('a mask with a bag has no setting that would let its bag collapse', () => {
  expect(MASK_MINIMUM_LPM).toBe(10);
  const line = (lpm: number) => [{ people: 1, when: 'any' as const, fromLpm: lpm, toLpm: lpm }];
  expect(maskSettingFor(line(9.5), 10)).toBeNull();
  expect(maskSettingFor(line(10), 10)).toEqual({ fromLpm: 10, toLpm: 10 });
  expect(maskSettingFor(line(15), 10)).toBeNull();
});

// Carbon monoxide feels like altitude sickness: headache, dizzy, weak, sick; suspect it when several are ill or it eases
// outdoors (Iowa public health tracking, tracking.idph.iowa.gov, read). So it is asked about before anything is scored.
test('nobody is scored for altitude sickness before being asked about others who are ill, alarms, heaters and engines', () => {
  const flows = flowsOf(book);
  const scored = ['symptoms.headache', 'symptoms.gut', 'symptoms.fatigue', 'symptoms.dizziness'];
  let seen = 0;
  for (const facts of Object.values(PROFILES).slice(0, 2)) {
    for (const { turn } of walk(flows, facts, 'en')) {
      if (!scored.includes(turn.step)) continue;
      seen += 1;
      const { trail } = (JSON.parse(turn.state) as { context: { trail: readonly string[] } }).context;
      const others = trail.lastIndexOf('symptoms.others');
      const heater = Math.max(trail.lastIndexOf('symptoms.heater'), trail.lastIndexOf('symptoms.fresh-air'));
      expect(others, turn.step).toBeGreaterThanOrEqual(0);
      expect(heater, turn.step).toBeGreaterThan(others);
    }
  }
  expect(seen).toBeGreaterThan(100);
});
