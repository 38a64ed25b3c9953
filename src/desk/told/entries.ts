import type { Day } from '../../time/calendar.ts';
import type { Order, Property } from '../property.ts';

/** What an import tells the desk, one entry a row; things are named as owners name them, not by ids. */

export interface ModelEntry {
  readonly model: string;
  readonly highestSettingLpm: number;
  readonly ratedElevationM: number | null;
  readonly powerDrawW: number | null;
  /** Water between the bottle's two lines. */
  readonly bottleMl: number | null;
  /** The longest tube its maker allows. */
  readonly tubingM: number | null;
  /** What its alarms sound and look like, as the owner puts it. */
  readonly alarms: string | null;
  readonly lowPurityLight: string | null;
}

export interface PropertyEntry extends Pick<
  Property,
  'streetAddress' | 'elevationM' | 'zone' | 'emergencyNumber' | 'entrance' | 'textToEmergency'
> {
  readonly property: string;
  readonly dispatchPhone: string | null;
  readonly frontDeskPhone: string | null;
}

export interface RoomEntry {
  readonly property: string;
  readonly room: string;
  /** The telephone in the room, E.164. */
  readonly phone: string | null;
  /** How to find it at night. */
  readonly wayIn: string | null;
}

export interface UnitEntry {
  readonly unit: string;
  readonly model: string;
}

export interface PersonEntry {
  readonly name: string;
  readonly phone: string;
  readonly role: 'technician' | 'owner';
}

export interface RentalEntry {
  /** Null for one that is not on record yet. */
  readonly rentalId: number | null;
  /** The owner's own number for it, where there is one. */
  readonly rental: string | null;
  readonly guest: string;
  /** E.164, sorted. */
  readonly phones: readonly string[];
  readonly property: string;
  readonly room: string;
  readonly unit: string;
  readonly firstDay: Day;
  readonly lastDay: Day;
  readonly people: number;
  readonly fragile: boolean;
  readonly ageGroup: 'adult' | 'child';
  readonly cylinder: boolean;
  readonly oxygenAtHome: boolean;
  readonly order: Order | null;
}

/** A rental on record, with whether guests have written about it. */
export interface KnownRental extends RentalEntry {
  readonly rentalId: number;
  readonly hasConversations: boolean;
}

/** What the records know before an import. */
export interface Known {
  readonly models: readonly ModelEntry[];
  readonly properties: readonly PropertyEntry[];
  readonly rooms: readonly RoomEntry[];
  readonly units: readonly UnitEntry[];
  readonly people: readonly PersonEntry[];
  readonly rentals: readonly KnownRental[];
}

export type TableName = keyof Known;

/** What an import writes: one entry that is new or different, or a rental that is taken away. */
export type Written =
  | { readonly table: 'models'; readonly entry: ModelEntry }
  | { readonly table: 'properties'; readonly entry: PropertyEntry }
  | { readonly table: 'rooms'; readonly entry: RoomEntry }
  | { readonly table: 'units'; readonly entry: UnitEntry }
  | { readonly table: 'people'; readonly entry: PersonEntry }
  | { readonly table: 'rentals'; readonly entry: RentalEntry; readonly cancelled: boolean };
