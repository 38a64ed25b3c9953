import { labelKey } from '../../../reading/label.ts';
import { OTHER_WALL, beliefsAt } from '../../../desk/guest/outlets.ts';
import { outletToTell } from '../../../care/outlets.ts';
import { ownerLists } from '../../../desk/lists/lists.ts';
import type { Failing } from '../../../desk/lists/faults.ts';
import type { FlowBook } from '../../../flow/book.ts';
import { listRecordsOn } from '../../../records/list-records.ts';
import type { DemoDesk } from '../../demo-desk.ts';
import { faultTable } from '../many-table.ts';
import type { SeasonOutcome } from './play.ts';
import type { Season } from './read.ts';

interface RoomLearned {
  readonly property: string;
  readonly room: string;
  /** The outlet that the next guest is told of. */
  readonly told: string;
}

/** Rooms of whose outlets the next guest is told. */
async function roomsLearned(demo: DemoDesk): Promise<readonly RoomLearned[]> {
  const { records } = demo;
  const rooms = await records.viewTables(({ db }) =>
    db
      .selectFrom('rooms')
      .innerJoin('properties', 'properties.id', 'rooms.property_id')
      .select(['properties.name as property', 'rooms.property_id', 'rooms.room'])
      .orderBy('rooms.id')
      .execute(),
  );
  const learned: RoomLearned[] = [];
  for (const { property, property_id, room } of rooms) {
    const notes = await records.read((tx) => tx.outletNotes(property_id, room));
    const told = outletToTell(beliefsAt(notes, demo.now()), OTHER_WALL);
    if (told !== null) learned.push({ property, room, told });
  }
  return learned;
}

/** Units as the owner's list judges them at the season's end, the worst first. */
async function judgedUnits(demo: DemoDesk, { truth }: Season, book: FlowBook): Promise<readonly Failing[]> {
  const lists = ownerLists({
    lists: listRecordsOn(demo.records),
    records: demo.records,
    book,
    zone: truth.zone,
    centsAPart: null,
    now: demo.now(),
  });
  return (await lists.failing(truth.nights + 1)).units;
}

export interface SaidSeason {
  readonly lines: readonly string[];
  /** The unit that was made to fail is the worst, no other is to be pulled, and of no room a wrong outlet was learned. */
  readonly asItShould: boolean;
}

/** What came of a season: its nights by fault, and what the desk has learned beside what is true. */
export async function saySeason(
  season: Season,
  demo: DemoDesk,
  outcomes: readonly SeasonOutcome[],
  book: FlowBook,
): Promise<SaidSeason> {
  const { truth, faults } = season;
  const learned = await roomsLearned(demo);
  const keyOf = ({ property, room }: { property: string; room: string }): string => `${property} ${labelKey(room)}`;
  const works = new Map(truth.switchedOutlets.map((each) => [keyOf(each), each.works]));
  const visited = new Set(faults.filter(({ because }) => because === 'switched-outlet-in-room').map(keyOf));
  const right = learned.filter((room) => works.get(keyOf(room)) === room.told);
  const unnamed = learned.filter((room) => works.has(keyOf(room)) && room.told === OTHER_WALL);
  const units = await judgedUnits(demo, season, book);
  const worst = units
    .slice(0, 3)
    .map(({ name, faults: count, rentalDays, verdict }) => `${name} (${count} in ${rentalDays} days, ${verdict})`);
  const pulled = units.filter(({ verdict }) => verdict === 'pull').map(({ name }) => name);
  const wrong = learned.length - right.length - unnamed.length;
  const lines = [
    `${truth.nights} nights, ${outcomes.length} matters.`,
    '',
    faultTable(outcomes),
    '',
    `Rooms with a switched outlet: ${truth.switchedOutlets.length}, ${visited.size} of them with a guest who met it.`,
    `Learned with the outlet that works: ${right.length}; with one that nobody named: ${unnamed.length}.`,
    `Learned in rooms where nothing is wrong, or a wrong outlet: ${wrong}.`,
    `Units by faults, the worst first: ${worst.join(', ')}. The unit that was made to fail: ${truth.failingUnit}.`,
    `To be pulled for service: ${pulled.length === 0 ? 'none' : pulled.join(', ')}.`,
  ];
  const found = units[0]?.name === truth.failingUnit && pulled.every((name) => name === truth.failingUnit);
  return { lines, asItShould: wrong === 0 && right.length > 0 && found };
}
