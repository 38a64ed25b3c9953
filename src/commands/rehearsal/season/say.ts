import { labelKey } from '../../../reading/label.ts';
import { OTHER_WALL, beliefsAt } from '../../../desk/guest/outlets.ts';
import { outletToTell } from '../../../care/outlets.ts';
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

/** Conversations of rentals by unit. */
async function conversationsByUnit({ records }: DemoDesk): Promise<ReadonlyMap<string, number>> {
  const rows = await records.viewTables(({ db }) =>
    db
      .selectFrom('conversations')
      .innerJoin('rentals', 'rentals.id', 'conversations.rental_id')
      .innerJoin('units', 'units.id', 'rentals.unit_id')
      .select(({ fn }) => ['units.tag', fn.countAll().as('count')])
      .groupBy('units.tag')
      .execute(),
  );
  return new Map(rows.map(({ tag, count }) => [tag, Number(count)]));
}

export interface SaidSeason {
  readonly lines: readonly string[];
  /** The unit that was made to fail has the most conversations, and of no room a wrong outlet was learned. */
  readonly asItShould: boolean;
}

/** What came of a season: its nights by fault, and what the desk has learned beside what is true. */
export async function saySeason(
  { truth, faults }: Season,
  demo: DemoDesk,
  outcomes: readonly SeasonOutcome[],
): Promise<SaidSeason> {
  const learned = await roomsLearned(demo);
  const keyOf = ({ property, room }: { property: string; room: string }): string => `${property} ${labelKey(room)}`;
  const works = new Map(truth.switchedOutlets.map((each) => [keyOf(each), each.works]));
  const visited = new Set(faults.filter(({ because }) => because === 'switched-outlet-in-room').map(keyOf));
  const right = learned.filter((room) => works.get(keyOf(room)) === room.told);
  const unnamed = learned.filter((room) => works.has(keyOf(room)) && room.told === OTHER_WALL);
  const byUnit = [...(await conversationsByUnit(demo))].toSorted((a, b) => b[1] - a[1]);
  const most = byUnit.slice(0, 3).map(([tag, count]) => `${tag} ${count}`);
  const wrong = learned.length - right.length - unnamed.length;
  const lines = [
    `${truth.nights} nights, ${outcomes.length} matters.`,
    '',
    faultTable(outcomes),
    '',
    `Rooms with a switched outlet: ${truth.switchedOutlets.length}, ${visited.size} of them with a guest who met it.`,
    `Learned with the outlet that works: ${right.length}; with one that nobody named: ${unnamed.length}.`,
    `Learned in rooms where nothing is wrong, or a wrong outlet: ${wrong}.`,
    `Conversations by unit, most first: ${most.join(', ')}. The unit that was made to fail: ${truth.failingUnit}.`,
  ];
  return { lines, asItShould: wrong === 0 && right.length > 0 && byUnit[0]?.[0] === truth.failingUnit };
}
