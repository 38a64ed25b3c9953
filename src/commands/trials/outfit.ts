import { join } from 'node:path';
import { openRecords } from '../../records/open.ts';
import type { RecordsSettings } from '../../records/open.ts';
import { loadScenario } from '../../records/scenario.ts';
import type { Instant } from '../../time/instant.ts';
import { phoneOfGuest } from './guests.ts';

/** Those who work for the made-up outfit. Numbers 555-01xx are kept for fiction. */
export const PEOPLE = { first: '+19705550190', second: '+19705550191', owner: '+19705550192' } as const;
export const DESK_NUMBER = '+19705550100';
const EVERY_DAY = [1, 2, 3, 4, 5, 6, 7];
/** Every tenth guest is unknown to the desk, as lodging staff and borrowed phones are. */
const ONE_UNKNOWN_OF = 10;

/** A made-up outfit as a scenario: so many units, and the phones of so many guests spread over them. */
function outfit(units: number, guests: number): object {
  const known = Array.from({ length: guests }, (_, guest) => guest).filter((guest) => guest % ONE_UNKNOWN_OF !== 9);
  return {
    modelSheets: [{ name: 'Ten-litre home unit', maximumFlowRateLpm: 10, ratedElevationM: 3000, powerDrawW: 600 }],
    units: Array.from({ length: units }, (_, unit) => ({ tag: `NB-${unit + 1}`, modelSheet: 'Ten-litre home unit' })),
    properties: [
      {
        name: 'Marlstone Lodge',
        streetAddress: '14 Marlstone Way, Quillmere Basin',
        elevationM: 2900,
        zone: 'America/Denver',
        emergencyNumber: '911',
        dispatchNumber: '+19705550180',
        frontDeskPhone: '+19705550181',
      },
    ],
    people: [
      { name: 'Bram Tiddlecote', phone: PEOPLE.first, role: 'technician' },
      { name: 'Ines Quarrow', phone: PEOPLE.second, role: 'technician' },
      { name: 'Odalys Fenwright', phone: PEOPLE.owner, role: 'owner' },
    ],
    roster: {
      zone: 'America/Denver',
      shifts: [
        { person: 'Bram Tiddlecote', days: EVERY_DAY, from: '08:00', to: '08:00', position: 1 },
        { person: 'Ines Quarrow', days: EVERY_DAY, from: '08:00', to: '08:00', position: 2 },
      ],
    },
    settingSheet: {
      signedBy: 'Dr. Made-up Name',
      signedOn: '2026-10-01',
      lines: [{ people: 1, when: 'any', fromLpm: 2, toLpm: 2 }],
    },
    stays: Array.from({ length: units }, (_, unit) => ({
      guest: `Guest ${unit + 1}`,
      phones: known.filter((guest) => guest % units === unit).map(phoneOfGuest),
      property: 'Marlstone Lodge',
      room: String(unit + 1),
      unit: `NB-${unit + 1}`,
      fromDay: -3,
      toDay: 5,
      order: { orderedBy: 'Dr. Made-up Name', lines: [{ people: 1, when: 'any', fromLpm: 2, toLpm: 2 }] },
    })).filter((stay) => stay.phones.length > 0),
  };
}

/** Where a desk that is started with this data directory and without `DATABASE_URL` keeps its records. */
export const recordsIn = (folder: string): RecordsSettings => ({ sqliteFile: join(folder, 'nightbell.sqlite') });

/** Makes records with a made-up outfit in them, for desks that are started on them. */
export async function furnish(
  place: RecordsSettings,
  size: { readonly units: number; readonly guests: number },
  now: Instant,
): Promise<void> {
  const records = await openRecords(place);
  try {
    // JSON is YAML.
    await loadScenario(
      records,
      { name: 'the outfit of a trial', text: JSON.stringify(outfit(size.units, size.guests)) },
      now,
    );
  } finally {
    await records.close();
  }
}
