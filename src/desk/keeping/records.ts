import type { Day } from '../../time/calendar.ts';
import type { Instant } from '../../time/instant.ts';
import type { KeepingNote } from './note.ts';

/** How much was taken out. */
export interface Forgotten {
  readonly conversations: number;
  readonly entries: number;
  readonly callouts: number;
}

/** A rental that a phone is on. */
export interface RentalOfPhone {
  readonly lastDay: Day;
  /** The zone of its property. */
  readonly zone: string;
  readonly otherPhones: number;
}

/** What is asked of the records to forget, inside one transaction. Counts always stay: how many, when, how it ended. */
export interface KeepingTx {
  conversationsWith(phone: string): Promise<readonly number[]>;
  rentalsWith(phone: string): Promise<readonly RentalOfPhone[]>;
  /**
   * Takes words, pictures, the room, the state and the number out of conversations, and what technicians were told and wrote
   * out of their callouts. What was heard stays as danger, topic and answer. Conversations of one phone go under one name.
   */
  forgetConversations(ids: readonly number[]): Promise<Forgotten>;
  /**
   * Takes a phone out of everything else: the guest, stored replies, work with any of these spellings of the number or about
   * these callouts, and rentals, which lose name and order too where no other phone is left.
   */
  forgetPhone(
    phone: string,
    traces: { readonly spellings: readonly string[]; readonly calloutIds: readonly number[]; readonly at: Instant },
  ): Promise<void>;
  /** Conversations without a text since then, not forgotten yet and without an open callout; oldest first. */
  lapsedConversations(before: Instant, most: number): Promise<readonly number[]>;
  /** Takes names, orders and phones out of rentals that ended before a day. Gives how many. */
  forgetRentals(before: Day): Promise<number>;
  /**
   * Takes out stored replies and finished work from before, and phones that are named nowhere any more; not those that want
   * no texts, since that must be known when they come back.
   */
  clearRest(before: Instant): Promise<void>;
  note(note: KeepingNote): Promise<void>;
}
