import type { Ending } from '../../flow/ending.ts';
import type { Instant } from '../../time/instant.ts';
import type { Language } from '../../words/heard.ts';
import type { Stay } from '../property.ts';
import type { OutletNoteOnRecord } from '../records.ts';

/** What the owner's lists ask of the records; `src/records/` implements it. Each call sees one state of what is committed. */
export interface ListRecords {
  /** Conversations that began from the first instant up to the second, oldest first. */
  talks(from: Instant, until: Instant): Promise<readonly Talk[]>;
  /** Rentals that stand on any day from the first to the last, both included. */
  rentals(first: string, last: string): Promise<readonly RentalOfList[]>;
  /** Stays with a unit in a room on a day. */
  staysOn(day: string): Promise<readonly Stay[]>;
  /** What is known of outlets, by room. */
  outlets(): Promise<readonly RoomOutlets[]>;
}

/** A conversation as the lists count it. */
export interface Talk {
  readonly id: number;
  readonly rentalId: number | null;
  readonly lang: Language;
  readonly openedAt: Instant;
  readonly ending: Ending | null;
  readonly lines: readonly TalkLine[];
}

export interface TalkLine {
  readonly at: Instant;
  readonly who: 'guest' | 'desk' | 'technician' | 'owner';
  readonly words: string;
  /** With a guest's words the step that stood, with the desk's the one it came to; a note about a callout has no dot in it. */
  readonly step: string | null;
  readonly missed: boolean;
  /** On the phone: no text. */
  readonly spoken: boolean;
}

export interface RentalOfList {
  readonly rentalId: number;
  readonly tag: string;
  readonly property: string;
  readonly room: string;
  /** The room however its label is written, at its property. */
  readonly roomKey: string;
  /** IANA zone */
  readonly zone: string;
  /** ISO dates */
  readonly firstDay: string;
  readonly lastDay: string;
}

export interface RoomOutlets {
  readonly propertyId: number;
  readonly property: string;
  readonly room: string;
  readonly notes: readonly OutletNoteOnRecord[];
}
