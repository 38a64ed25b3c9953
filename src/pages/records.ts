import type { CalloutStatus, Conversation, Entry, Offer, OutletNoteOnRecord } from '../desk/records.ts';
import type { ModelSheet, Property, Stay, Unit } from '../desk/property.ts';
import type { TextState } from '../desk/carrier.ts';
import type { Ending } from '../flow/ending.ts';
import type { Person, Roster } from '../roster/roster.ts';
import type { Urgency } from '../roster/trying.ts';
import type { Instant } from '../time/instant.ts';
import type { Language } from '../words/heard.ts';

/** What the pages ask of the records; `src/records/` implements it. Each call sees one state of what is committed. */
export interface PageRecords {
  night(query: NightQuery): Promise<NightPart>;
  callSheet(conversationId: number): Promise<CallSheet | null>;
  /** The conversation of a phone with the latest guest text; null when it never wrote. */
  latestOf(phone: string): Promise<number | null>;
  /** Conversations and callouts that began in a time, as the numbers are made of them; oldest first. */
  counted(from: Instant, until: Instant): Promise<Counted>;
  roster(): Promise<Roster>;
  places(): Promise<Places>;
  rentals(query: RentalQuery): Promise<readonly RentalLine[]>;
  /** A unit with the latest conversations about it, newest first; null when there is none with that id. */
  unit(unitId: number): Promise<UnitHistory | null>;
  /** A room with what guests found out about its outlets; null when the property is not known. */
  room(propertyId: number, room: string): Promise<RoomHistory | null>;

  mark(mark: Mark): Promise<void>;
  unmark(entryId: number): Promise<void>;

  calloutLink(token: string): Promise<CalloutLink | null>;
  /** Links of one person that still open, newest callout first. */
  calloutLinksOf(personId: number, now: Instant): Promise<readonly CalloutLink[]>;
  /** Ends every link to a callout. */
  revokeCalloutLinks(calloutId: number, at: Instant): Promise<void>;
}

export interface NightQuery {
  readonly from: Instant;
  readonly until: Instant;
  readonly propertyId: number | null;
  readonly unitId: number | null;
  /** The name of a flow that the conversation came through. */
  readonly flow: string | null;
  readonly ending: Ending | 'open' | null;
  /** Part of what was said, in any letters. */
  readonly words: string | null;
  /** Goes on below a line that was shown. */
  readonly below: { readonly at: Instant; readonly id: number } | null;
  readonly most: number;
}

export interface NightLine {
  readonly id: number;
  readonly openedAt: Instant;
  readonly lastGuestAt: Instant;
  readonly endedAt: Instant | null;
  readonly ending: Ending | null;
  readonly guestMessages: number;
  readonly lang: Language;
  readonly phone: string;
  readonly guestName: string | null;
  readonly property: string | null;
  readonly room: string | null;
  readonly tag: string | null;
  readonly firstWords: string;
  /** Flows it came through, in order. */
  readonly flows: readonly string[];
  readonly callouts: readonly CalloutLine[];
}

export interface CalloutLine {
  readonly id: number;
  readonly matter: string;
  readonly urgency: Urgency;
  readonly status: CalloutStatus;
  readonly takenBy: string | null;
}

export interface NightPart {
  /** Newest first. */
  readonly lines: readonly NightLine[];
  /** There are more below these. */
  readonly more: boolean;
}

export interface SheetCallout extends CalloutLine {
  readonly brief: string;
  readonly openedAt: Instant;
  readonly takenAt: Instant | null;
  readonly doneAt: Instant | null;
  readonly note: string | null;
  readonly offers: readonly (Offer & { readonly name: string })[];
  /** Messages that callers left for whoever takes it, oldest first. */
  readonly recordings: readonly { readonly at: Instant; readonly lengthS: number }[];
}

/** What became of a text of the desk: as the carrier reported it, or as it stands in the work. */
export type Delivery = TextState | 'to be sent' | 'sent' | 'not sent';

export interface CallSheet {
  readonly conversation: Conversation;
  readonly stay: Stay | null;
  readonly property: Property | null;
  readonly entries: readonly Entry[];
  readonly callouts: readonly SheetCallout[];
  /** By entry; entries that were no texts, and replies nothing was reported of, are not in it. */
  readonly deliveries: ReadonlyMap<number, Delivery>;
  /** What lines that were heard wrong should have been heard as. */
  readonly marks: ReadonlyMap<number, Expected>;
  /** The flows it began with, as they were kept. */
  readonly flowDocuments: unknown;
}

/** What a text should have been heard as. */
export interface Expected {
  readonly danger: string;
  readonly signs: readonly string[];
  readonly topic: string | null;
  readonly answer: string | number | null;
}

export interface Mark {
  readonly entryId: number;
  readonly personId: number;
  readonly at: Instant;
  readonly expected: Expected;
}

export interface Counted {
  readonly conversations: readonly {
    readonly id: number;
    readonly openedAt: Instant;
    readonly ending: Ending | null;
    readonly guestMessages: number;
    readonly property: string | null;
    readonly tag: string | null;
    readonly flows: readonly string[];
    /** Words of the desk that went out as texts, for what they cost. */
    readonly deskTexts: readonly string[];
  }[];
  /** When texts were reported to be undeliverable. */
  readonly lost: readonly Instant[];
  readonly callouts: readonly {
    readonly openedAt: Instant;
    readonly urgency: Urgency;
    readonly takenAt: Instant | null;
  }[];
}

export interface Places {
  readonly properties: readonly Property[];
  readonly units: readonly Unit[];
  readonly models: readonly ModelSheet[];
  /** Rooms that were entered; a rental may name others where none of its property was. */
  readonly rooms: readonly { readonly propertyId: number; readonly room: string }[];
}

export interface RentalQuery {
  /** Rentals that stand on this day or begin after it, ISO. */
  readonly from: string;
  readonly most: number;
}

export interface RentalLine {
  readonly stay: Stay;
  readonly phones: readonly string[];
}

/** A conversation as the page of a unit or a room names it. */
export interface HistoryLine {
  readonly id: number;
  readonly openedAt: Instant;
  readonly ending: Ending | null;
  readonly room: string | null;
  readonly flows: readonly string[];
  readonly firstWords: string;
}

export interface UnitHistory {
  readonly unit: Unit;
  readonly conversations: readonly HistoryLine[];
}

export interface RoomHistory {
  readonly property: Property;
  readonly room: string;
  /** Oldest first. */
  readonly outlets: readonly OutletNoteOnRecord[];
  readonly conversations: readonly HistoryLine[];
}

export interface CalloutLink {
  readonly token: string;
  readonly callout: SheetCallout & { readonly conversationId: number; readonly takenById: number | null };
  readonly person: Person & { readonly active: boolean };
  readonly endsAt: Instant;
  readonly revokedAt: Instant | null;
}
