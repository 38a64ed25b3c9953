/** What the desk knows of places, machines and stays. All of it comes from the records; any of it may be missing. */

export interface Property {
  readonly id: number;
  readonly name: string;
  /** As the dispatcher is told it; at most 60 characters. */
  readonly streetAddress: string;
  readonly elevationM: number;
  /** IANA zone, "America/Denver". */
  readonly zone: string;
  /** What a guest dials: "911". */
  readonly emergencyNumber: string;
  /** Ten-digit line of the dispatch centre, E.164, for those who are elsewhere: 911 would reach the wrong centre. */
  readonly dispatchNumber: string | null;
  readonly frontDeskPhone: string | null;
  /** How to get in at night. */
  readonly entrance: string | null;
  /** Whether the local centre takes texts to the emergency number. */
  readonly textToEmergency: boolean;
}

export interface ModelSheet {
  readonly id: number;
  readonly name: string;
  readonly maximumFlowRateLpm: number;
  readonly ratedElevationM: number | null;
  readonly powerDrawW: number | null;
  /** Water between the two lines of its bottle. */
  readonly bottleMl: number | null;
}

export interface Unit {
  readonly id: number;
  /** The tag on the case, "NB-07". */
  readonly tag: string;
  readonly model: ModelSheet;
}

/** One line of an order or of the signed sheet: a flow rate for so many people at a time of day. */
export interface FlowRateLine {
  readonly people: 1 | 2;
  readonly when: 'day' | 'night' | 'any';
  readonly fromLpm: number;
  readonly toLpm: number;
}

/** The prescription on the rental. */
export interface Order {
  readonly orderedBy: string;
  readonly lines: readonly FlowRateLine[];
  readonly mask: boolean;
  /** Keeps carbon dioxide (as in COPD): never told to raise the setting, never a Y. */
  readonly keepsCarbonDioxide: boolean;
}

/** The owner's own setting sheet, signed by a clinician, used where an order is silent. */
export interface SettingSheet {
  readonly signedBy: string;
  /** ISO date. */
  readonly signedOn: string;
  readonly lines: readonly FlowRateLine[];
}

/** A rental with its unit and its property: one guest's stay with one unit. */
export interface Stay {
  readonly rentalId: number;
  readonly guestName: string;
  readonly property: Property;
  /** As the dispatcher is told it; at most 20 characters. */
  readonly room: string;
  readonly unit: Unit;
  /** ISO dates, first and last day, in the property's zone. */
  readonly firstDay: string;
  readonly lastDay: string;
  readonly people: number;
  readonly fragile: boolean;
  readonly ageGroup: 'adult' | 'child';
  readonly order: Order | null;
  readonly cylinder: boolean;
  readonly oxygenAtHome: boolean;
}
