import { circuitLoad } from '../../care/circuit.ts';
import type { CircuitLoad } from '../../care/circuit.ts';
import type { OutletBelief } from '../../care/outlets.ts';
import type { FlowBook } from '../../flow/book.ts';
import type { Instant } from '../../time/instant.ts';
import { bottleOf } from '../due/bottle.ts';
import type { Bottle } from '../due/bottle.ts';
import { beliefsAt } from '../guest/outlets.ts';
import { sameRoom } from '../guest/whereabouts.ts';
import type { SettingSheet, Stay } from '../property.ts';
import type { RoomOutlets } from './records.ts';

/** An ordinary electric heater, W: what a guest is likely to plug in beside a unit. Common practice, no source. */
export const HEATER_W = 1500;

/** A unit to be brought on a day, with what whoever brings it should know of the room. */
export interface Delivery {
  readonly stay: Stay;
  /** What guests before found out about the room's outlets, the surest first. */
  readonly outlets: readonly OutletBelief[];
  readonly bottle: Bottle;
  /** Units in that room on that day, this one among them. */
  readonly unitsInRoom: number;
  /** All of them on one ordinary circuit, by themselves and with a heater; null where a model sheet does not say what it draws. */
  readonly load: { readonly alone: CircuitLoad; readonly withHeater: CircuitLoad } | null;
  /** The unit stands higher than its model sheet is rated for, m; null where it does not, or nobody knows. */
  readonly aboveRatedM: number | null;
  /** The unit is on the list to be pulled for service. */
  readonly toPull: boolean;
}

export interface DayOfDeliveries {
  readonly day: string;
  /** Every stay with a unit in a room on that day. */
  readonly stays: readonly Stay[];
  readonly outlets: readonly RoomOutlets[];
  readonly sheet: SettingSheet | null;
  /** Tags of units that are to be pulled for service. */
  readonly toPull: readonly string[];
}

function loadOf(stays: readonly Stay[]): Delivery['load'] {
  const watts = stays.map(({ unit }) => unit.model.powerDrawW).filter((each) => each !== null);
  if (watts.length < stays.length) return null;
  try {
    return { alone: circuitLoad(watts), withHeater: circuitLoad([...watts, HEATER_W]) };
  } catch (error) {
    // A wrong draw on a model sheet must not keep the list from being read.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** The deliveries of a day, by property and room. Pure. */
export function deliveriesOf(day: DayOfDeliveries, book: FlowBook, now: Instant): readonly Delivery[] {
  return day.stays
    .filter(({ firstDay }) => firstDay === day.day)
    .map((stay): Delivery => {
      const { property, room, unit } = stay;
      const notes = day.outlets.find((of) => of.propertyId === property.id && sameRoom(of.room, room))?.notes ?? [];
      const there = day.stays.filter((other) => other.property.id === property.id && sameRoom(other.room, room));
      const { ratedElevationM } = unit.model;
      return {
        stay,
        outlets: beliefsAt(notes, now),
        bottle: bottleOf(book, stay, day.sheet),
        unitsInRoom: there.length,
        load: loadOf(there),
        aboveRatedM: ratedElevationM !== null && property.elevationM > ratedElevationM ? ratedElevationM : null,
        toPull: day.toPull.includes(unit.tag),
      };
    });
}
