import type { Scenario } from './scenario-shape.ts';
import { labelKey } from '../reading/label.ts';

export type Path = readonly (string | number)[];

/** What is wrong at one place of a scenario. */
export interface Fault {
  readonly path: Path;
  readonly message: string;
}

const among = (names: readonly string[], what: string): string =>
  `names no ${what} of this scenario; there are ${names.join(', ') || 'none'}. Name one of them, or add it.`;

function repeats(list: string, field: string, keys: readonly string[]): Fault[] {
  return keys.flatMap((key, index) =>
    keys.indexOf(key) < index ? [{ path: [list, index, field], message: 'stands twice; keep one of the two.' }] : [],
  );
}

type StayIn = Scenario['stays'][number];

const overlap = (a: StayIn, b: StayIn): boolean =>
  labelKey(a.unit) === labelKey(b.unit) && a.fromDay <= b.toDay && b.fromDay <= a.toDay;

function stayFaults(scenario: Scenario, stay: StayIn, index: number): Fault[] {
  const path = ['stays', index];
  const faults: Fault[] = [];
  const properties = scenario.properties.map((property) => property.name);
  if (!properties.includes(stay.property)) {
    faults.push({ path: [...path, 'property'], message: among(properties, 'property') });
  }
  const unit = scenario.units.find(({ tag }) => labelKey(tag) === labelKey(stay.unit));
  if (!unit) {
    const tags = scenario.units.map(({ tag }) => tag);
    faults.push({ path: [...path, 'unit'], message: among(tags, 'unit') });
  }
  if (scenario.stays.slice(0, index).some((other) => overlap(stay, other))) {
    faults.push({ path: [...path, 'unit'], message: 'is rented out twice on one day; change the unit or the days.' });
  }
  const sheet = scenario.modelSheets.find(({ name }) => name === unit?.modelSheet);
  for (const [line, { toLpm }] of (stay.order?.lines ?? []).entries()) {
    if (sheet && toLpm > sheet.maximumFlowRateLpm) {
      faults.push({
        path: [...path, 'order', 'lines', line, 'toLpm'],
        message: `is more than the unit gives (${sheet.maximumFlowRateLpm} L/min); choose another unit.`,
      });
    }
  }
  return faults;
}

/** Names in a scenario that lead nowhere, things that stand twice, and orders that a unit cannot serve. */
export function brokenReferences(scenario: Scenario): Fault[] {
  const sheets = scenario.modelSheets.map(({ name }) => name);
  const names = scenario.people.map(({ name }) => name);
  return [
    ...repeats('modelSheets', 'name', sheets),
    ...repeats(
      'properties',
      'name',
      scenario.properties.map(({ name }) => name),
    ),
    ...repeats(
      'units',
      'tag',
      scenario.units.map(({ tag }) => labelKey(tag)),
    ),
    ...repeats('people', 'name', names),
    ...repeats(
      'people',
      'phone',
      scenario.people.map(({ phone }) => phone),
    ),
    ...scenario.units.flatMap(({ modelSheet }, index) =>
      sheets.includes(modelSheet)
        ? []
        : [{ path: ['units', index, 'modelSheet'], message: among(sheets, 'model sheet') }],
    ),
    ...scenario.roster.shifts.flatMap(({ person }, index) =>
      names.includes(person) ? [] : [{ path: ['roster', 'shifts', index, 'person'], message: among(names, 'person') }],
    ),
    ...scenario.stays.flatMap((stay, index) => stayFaults(scenario, stay, index)),
  ];
}
