import type { Burst } from './guest/burst.ts';
import type { Language } from '../words/heard.ts';
import type { TextName, TextState } from './carrier.ts';
import type { Ending } from '../flow/ending.ts';
import type { Instant } from '../time/instant.ts';
import type { Person, Roster, Swap } from '../roster/roster.ts';
import type { Urgency } from '../roster/trying.ts';
import type { KeepingTx } from './keeping/records.ts';
import type { SettingSheet, Stay, Property } from './property.ts';

/** The shapes in which the desk keeps things, and what it asks of the records. `src/records/` implements `Records`. */

/** A phone that has written or called. Its row is what texts from one phone queue on. */
export interface GuestPhone {
  /** E.164 */
  readonly phone: string;
  readonly lang: Language | null;
  readonly optedOutAt: Instant | null;
}

export interface Conversation {
  readonly id: number;
  readonly phone: string;
  readonly rentalId: number | null;
  readonly propertyId: number | null;
  /** The room the guest named, when no rental says it. */
  readonly room: string | null;
  readonly lang: Language;
  /** Hash of the flow documents the conversation began with. */
  readonly flowHash: string;
  /** The engine's number: a state of another engine is not restored. */
  readonly engine: number;
  /** The machine's persisted state, JSON. */
  readonly state: string;
  readonly openedAt: Instant;
  readonly lastGuestAt: Instant;
  readonly guestMessages: number;
  readonly lastReply: string | null;
  /** How many replies in a row were equal; a person looks after ten. */
  readonly equalReplies: number;
  /** Whether an unknown guest was asked for the unit's tag or the room: once. */
  readonly placeAsked: boolean;
  /** The texts of the phone that came close together, with the last one. */
  readonly burst: Burst | null;
  readonly ending: Ending | null;
  readonly endedAt: Instant | null;
}

export type NewConversation = Omit<Conversation, 'id'>;

export interface NewEntry {
  readonly conversationId: number;
  readonly at: Instant;
  readonly who: 'guest' | 'desk' | 'technician' | 'owner';
  readonly words: string;
  /** What the desk made of it; only on a guest's entries. */
  readonly heard: unknown;
  /** The step that stood when it was said. */
  readonly step: string | null;
  readonly media: readonly string[];
  /** The step that stood could make nothing of it; left out where it could, or where nobody was heard. */
  readonly missed?: boolean;
  /** The carrier's id of the text, where there is one; unique. */
  readonly messageId: string | null;
}
export interface Entry extends NewEntry {
  readonly id: number;
}

/** Whether an outlet of a room gave power. */
export interface OutletNoteOnRecord {
  /** A value of the answer kind `outlet-place`, or `other-wall`. */
  readonly place: string;
  readonly worked: boolean;
  readonly at: Instant;
}

export interface NewOutletNote extends OutletNoteOnRecord {
  readonly propertyId: number;
  readonly room: string;
  readonly conversationId: number;
}

export type CalloutStatus = 'held' | 'ringing' | 'taken' | 'done';

export interface NewCallout {
  /** At most one callout that is not done may have a key. */
  readonly key: string;
  readonly conversationId: number;
  readonly matter: string;
  readonly urgency: Urgency;
  readonly status: 'held' | 'ringing';
  readonly brief: string;
  readonly openedAt: Instant;
  /** What may have hit the neighbours too, and where; left out or null where it is one unit's own matter. */
  readonly cause?: string | null;
}
export interface Callout extends Omit<NewCallout, 'status'> {
  /** Also the number a technician names: TAKE 12. */
  readonly id: number;
  readonly status: CalloutStatus;
  readonly takenBy: number | null;
  readonly takenAt: Instant | null;
  readonly doneAt: Instant | null;
  readonly note: string | null;
  /** The round of trying that came last, counted from 0. */
  readonly round: number;
  readonly cause: string | null;
}

export interface Offer {
  readonly personId: number;
  readonly at: Instant;
  readonly by: 'text' | 'call';
  /** When the person passed the callout on. */
  readonly passedAt: Instant | null;
}

/** A conversation's part in a callout. */
export interface CalloutShare {
  readonly conversationId: number;
  readonly joinedAt: Instant;
  /** When its guest was told that their texts go on to the one who took it. */
  readonly toldAt: Instant | null;
}

export interface NewWork {
  readonly kind: string;
  readonly dueAt: Instant;
  /** Dropped, not done, when it comes to its turn later than this. */
  readonly notAfter: Instant | null;
  /** At most one undone row may have a key; adding a second does nothing. */
  readonly key: string | null;
  /** Whose order it keeps: rows of one guest are done oldest first. E.164. */
  readonly phone: string | null;
  /** Danger never waits behind anything else of the same guest. */
  readonly danger: boolean;
  readonly payload: unknown;
}
export interface Work extends NewWork {
  readonly id: number;
  readonly tries: number;
  /** Set while it is not known whether the carrier took what was handed to it: a worker may have died in between. */
  readonly attemptedAt: Instant | null;
}

/** As much of a row as is needed to hand it to whoever does it. */
export type DueWork = Pick<Work, 'id' | 'kind' | 'tries' | 'danger'>;

/** A row that was just written, or made due at once. */
export type AddedWork = DueWork & Pick<Work, 'dueAt'>;

/** A call that came in. */
export interface IncomingCall {
  readonly id: number;
  /** The carrier's id; unique. */
  readonly callId: string;
  /** E.164; where the number is hidden, a name of its own that nothing can be sent to. */
  readonly phone: string;
  readonly lang: Language;
  /** Null until something was said in it. */
  readonly conversationId: number | null;
  /** The callout whose answer the caller waits for on the line. */
  readonly waitsFor: number | null;
  /** Where the call stands, JSON; `src/desk/caller/standing.ts` says what it may be. */
  readonly standing: string;
  readonly openedAt: Instant;
  readonly endedAt: Instant | null;
}
export type NewIncomingCall = Omit<IncomingCall, 'id'>;

/** A message that a caller left for the one who takes their callout. */
export interface Recording {
  readonly calloutId: number;
  readonly conversationId: number;
  /** Where the carrier keeps it. */
  readonly address: string;
  readonly lengthS: number;
  readonly at: Instant;
}

/** A stay with the phones of its rental, which are told what nobody asked for. */
export interface StayWithPhones {
  readonly stay: Stay;
  /** E.164, sorted. */
  readonly phones: readonly string[];
}

/** What happened between two instants, for the owner. */
export interface NightCount {
  readonly conversations: readonly Pick<Conversation, 'id' | 'ending'>[];
  readonly callouts: readonly Callout[];
}

/** A test of the whole list: who was tried, and when each answered. */
export interface Drill {
  readonly id: number;
  readonly begunAt: Instant;
  readonly calls: readonly { readonly personId: number; readonly answeredAt: Instant | null }[];
}

/** What one text does to the records, inside one transaction. */
export interface Tx {
  /** Inserts the carrier's message id. A repeat waits for the first to commit and gets its stored reply. */
  claimMessage(message: {
    id: string;
    phone: string;
    at: Instant;
  }): Promise<{ fresh: true } | { fresh: false; reply: string | null; replyEntryId: number | null }>;
  /** The stored reply of a message id that was settled; null when the id is not known. */
  storedReply(id: string): Promise<{ text: string | null; entryId: number | null } | null>;
  settleMessage(id: string, reply: string | null, replyEntryId: number | null): Promise<void>;

  /** Inserts the phone or leaves it, then locks its row until the transaction ends. */
  lockPhone(phone: string): Promise<GuestPhone>;
  savePhone(phone: GuestPhone): Promise<void>;
  /** Keeps that a text to the phone could not be delivered; with null, that one was. The phone must have a row. */
  saveTextsLost(phone: string, at: Instant | null): Promise<void>;
  /** Since when texts to the phone do not arrive; null while they do, as far as is known. */
  textsLostAt(phone: string): Promise<Instant | null>;

  /** Stays of a phone on the local day of the property at that instant. */
  staysOf(phone: string, at: Instant): Promise<readonly Stay[]>;
  /** Stays at that instant whose unit has the tag (case, dash and spaces ignored) and, if given, whose room has the label. */
  staysAt(place: { tag?: string; room?: string }, at: Instant): Promise<readonly Stay[]>;
  stay(rentalId: number): Promise<Stay | null>;
  property(id: number): Promise<Property | null>;
  settingSheet(): Promise<SettingSheet | null>;

  /** The conversation of the phone with the latest guest text. */
  latestConversation(phone: string): Promise<Conversation | null>;
  conversation(id: number): Promise<Conversation | null>;
  openConversation(conversation: NewConversation): Promise<Conversation>;
  saveConversation(conversation: Conversation): Promise<void>;
  addEntry(entry: NewEntry): Promise<Entry>;
  entries(conversationId: number): Promise<readonly Entry[]>;
  entry(id: number): Promise<Entry | null>;

  /** Keeps what a guest found out about an outlet; a conversation says the same of one once. */
  noteOutlet(note: NewOutletNote): Promise<void>;
  /** Takes back what a conversation said of an outlet; false when it said no such thing. */
  dropOutletNote(note: Pick<NewOutletNote, 'conversationId' | 'place' | 'worked'>): Promise<boolean>;
  /** The notes of a room, oldest first; its label is found however it is written. */
  outletNotes(propertyId: number, room: string): Promise<readonly OutletNoteOnRecord[]>;

  roster(): Promise<Roster>;
  personByPhone(phone: string): Promise<Person | null>;
  /** Two people take each other's place in a night; entered again it stays one swap. */
  addSwap(swap: Swap): Promise<void>;
  /** Everyone has their own place in that night again. */
  dropSwaps(day: string): Promise<void>;

  /** Opens a callout, or returns the open one with that key; its conversation has a part in it either way. */
  openCallout(callout: NewCallout): Promise<{ callout: Callout; opened: boolean }>;
  callout(id: number): Promise<Callout | null>;
  saveCallout(callout: Callout): Promise<void>;
  /** Every callout that a conversation has a part in, oldest first. */
  callouts(conversationId: number): Promise<readonly Callout[]>;
  /** Callouts not done that a conversation has a part in, newest first. */
  openCallouts(conversationId: number): Promise<readonly Callout[]>;
  offerCallout(offer: { calloutId: number; personId: number; at: Instant; by: 'text' | 'call' }): Promise<void>;
  /** Callouts not done that were offered to the person, newest first. */
  calloutsOfferedTo(personId: number): Promise<readonly Callout[]>;
  offersOf(calloutId: number): Promise<readonly Offer[]>;
  /** The person has passed the callout on. */
  passCallout(calloutId: number, personId: number, at: Instant): Promise<void>;
  /**
   * The token of the address under which a person finds a callout without a password; it opens until then. The same one
   * while it stands, another after it was revoked.
   */
  linkToCallout(link: { calloutId: number; personId: number; now: Instant; until: Instant }): Promise<string>;
  /** Gives a conversation its part in a callout; once. */
  joinCallout(joining: { calloutId: number; conversationId: number; at: Instant }): Promise<void>;
  conversationsOf(calloutId: number): Promise<readonly CalloutShare[]>;
  /** The guest of the conversation has been told that their texts go to the one who took the callout. */
  markTold(calloutId: number, conversationId: number, at: Instant): Promise<void>;
  /** Callouts not done of a cause at a property, newest first; two that are opened at once see each other. */
  openCalloutsOfCause(propertyId: number, cause: string): Promise<readonly Callout[]>;

  addWork(work: NewWork): Promise<void>;
  /** Adds a row unless any row, done or not, ever had its key. */
  planWork(work: NewWork & { readonly key: string }): Promise<void>;
  /**
   * Holds a claimed row until the transaction ends. False when another worker has claimed it since, after its lease ran out,
   * or when it is done: then nothing must be done about it.
   */
  holdWork(claimed: Pick<Work, 'id' | 'tries'>): Promise<boolean>;
  /** Marks the row in hand as done in this very transaction, so that what it leads to is never written twice. */
  finishWork(id: number, result: string, at: Instant): Promise<void>;
  /** Marks that a row is about to be handed to the carrier; null when it surely was not taken. */
  markAttempt(id: number, at: Instant | null): Promise<void>;
  /** Undone rows of these kinds, oldest first. */
  undoneWork(kinds: readonly string[]): Promise<readonly Work[]>;
  /** Gives an undone row other times, because the clock was set back. */
  retimeWork(id: number, times: { readonly dueAt: Instant; readonly notAfter: Instant | null }): Promise<void>;
  /** Marks undone rows with exactly this key as done without doing them. */
  dropWork(key: string, at: Instant): Promise<void>;

  /** Makes undone rows with exactly this key due at once. */
  hastenWork(key: string, at: Instant): Promise<void>;
  /** Puts off undone rows with exactly this key that are not due yet at `now`. */
  delayWork(key: string, until: Instant, now: Instant): Promise<void>;
  /** A row of work, done or not. */
  work(id: number): Promise<Work | null>;

  /** Notes a text's state unless it has one of the same rank or higher. False when it was not noted. */
  noteTextState(text: TextName, state: TextState, rank: number, at: Instant): Promise<boolean>;

  /**
   * Stays whose first day is at most tomorrow and whose last day is at least yesterday, anywhere on earth; of a part only
   * so many of those behind a rental, in the order of their rentals.
   */
  staysAround(
    at: Instant,
    part?: { readonly behindRental: number; readonly most: number },
  ): Promise<readonly StayWithPhones[]>;
  phonesOf(rentalId: number): Promise<readonly string[]>;
  /** Conversations and callouts opened from the first instant up to the second. */
  countNight(from: Instant, until: Instant): Promise<NightCount>;

  /** When the desk last wrote that it was alive; null when it never did. */
  lastAlive(): Promise<Instant | null>;
  noteAlive(at: Instant): Promise<void>;
  /** How many times the clock was set back, as noted. */
  setBacksNoted(): Promise<number>;
  /**
   * Notes that the clock was set back, and gives the number of that time. It is not new when another process of the same
   * clock noted it: later than the `known` one, which this process has noted or seen noted, and with instants close to these.
   */
  noteSetBack(setBack: SetBack, known: number): Promise<{ readonly number: number; readonly isNew: boolean }>;

  beginDrill(personIds: readonly number[], at: Instant): Promise<Drill>;
  drill(id: number): Promise<Drill | null>;
  latestDrill(): Promise<Drill | null>;
  /** Notes a person's first answer. False when they had answered before or were not tried. */
  answerDrill(drillId: number, personId: number, at: Instant): Promise<boolean>;

  /** What is asked of the records to forget. */
  readonly keeping: KeepingTx;
  openIncomingCall(call: NewIncomingCall): Promise<IncomingCall>;
  /** A call by the carrier's id, held until the transaction ends; null when it was never opened. */
  incomingCall(callId: string): Promise<IncomingCall | null>;
  saveIncomingCall(call: IncomingCall): Promise<void>;
  /** The call whose caller waits for that callout's answer, the one that waits longest; null where nobody does. */
  callWaitingFor(calloutId: number): Promise<IncomingCall | null>;
  addRecording(recording: Recording): Promise<void>;
  /** Messages left for whoever takes the callout, oldest first. */
  recordingsOf(calloutId: number): Promise<readonly Recording[]>;

  keepFlowVersion(hash: string, documents: unknown, at: Instant): Promise<void>;
  flowVersion(hash: string): Promise<unknown>;
}

/** How a text stands among those that wait for a commit. */
export interface TextOrder {
  /** A phone. Those of another may change places, so that processes hold the same phones in the same order. */
  readonly inOrderOf?: string;
  /** Asked only where others are ahead: whether it goes before them, in a commit without them. */
  readonly mustNotWait?: () => boolean;
}

/** A clock that showed `from` and then `to`, which is earlier. */
export interface SetBack {
  readonly from: Instant;
  readonly to: Instant;
}

export interface Records {
  /** One transaction of its own. */
  transaction<T>(use: (tx: Tx) => Promise<T>): Promise<T>;
  /**
   * The same, but texts that arrive together share one commit: strictly one after another, a savepoint each, at most 16,
   * awaiting nothing but the records; resolved after the commit. One that throws does not take its neighbours along.
   */
  shared<T>(use: (tx: Tx) => Promise<T>, order?: TextOrder): Promise<T>;
  /** Read only, over a second connection: sees what is committed. */
  read<T>(use: (tx: Tx) => Promise<T>): Promise<T>;
  /**
   * Leases the next row that is due, danger first, then oldest, skipping guests one of whose older rows (of the same
   * danger) is leased or waiting; null when nothing is due. The row's `tries` is already raised. With the id of a row, only
   * what stands in the same order as that row: its guest's rows of the same danger, or nothing but itself.
   */
  claimWork(now: Instant, leaseUntil: Instant, inOrderOf?: number): Promise<Work | null>;
  finishWork(id: number, result: string, at: Instant): Promise<void>;
  /** Gives the row back, due again at that instant; it keeps its place among its guest's. */
  postponeWork(id: number, dueAt: Instant): Promise<void>;
  /** Gives a row back that was not begun: no try is counted, and it keeps its place. */
  giveBackWork(id: number, freeAt: Instant): Promise<void>;
  /** Gives a row back that was not begun, to be due later: nothing of its guest waits for it. */
  moveWork(id: number, dueAt: Instant): Promise<void>;
  /** When the loop should wake next: the earliest instant at which an undone row is due or its lease runs out. */
  nextDueAt(): Promise<Instant | null>;
  /** Rows that could be claimed, free since `freeBy` at the latest, danger first, then oldest; of one order if given. */
  dueWork(freeBy: Instant, most: number, order?: Pick<Work, 'phone' | 'danger'>): Promise<readonly DueWork[]>;
  /** The earliest instant after `now` at which an undone row is free. */
  nextDueAfter(now: Instant): Promise<Instant | null>;
  close(): Promise<void>;
}
