import type { Language } from '../words/heard.ts';

/** What the desk asks of the phone company's side, and what it is given by it. `src/carrier/` implements it. */

/** One text as it came in, already known to be genuine. */
export interface Inbound {
  /** The carrier's id of the message; unique. */
  readonly id: string;
  /** E.164 where it is a phone; short codes and alphanumeric senders as they came. */
  readonly from: string;
  readonly to: string;
  readonly text: string;
  /** Addresses of pictures; kept as references, never fetched here. */
  readonly media: readonly string[];
  /** The carrier took the whole text for one of its keywords, which the account may have set to any word, and answered it. */
  readonly optOut?: 'stop' | 'start' | 'help';
}

/** What goes back in the webhook's own response. `entryId` names the delivery report's row. */
export interface Reply {
  readonly text: string | null;
  readonly entryId: number | null;
}

export interface OutboundText {
  readonly to: string;
  readonly body: string;
  /** Comes back with delivery reports. */
  readonly workId: number;
}

export interface OutboundCall {
  readonly to: string;
  /** What it will begin with; the words themselves are asked for when it is answered. */
  readonly opening: string;
  /** Names the call in the addresses that the carrier asks for its words. */
  readonly workId: number;
}

export type Sent =
  | { readonly sent: true; readonly providerId: string }
  /**
   * `final`: trying again cannot help (invalid number, opted out). `code` is the provider's, for the log. `maybe`: it may
   * have been taken all the same (no answer in time, 5xx).
   */
  | {
      readonly sent: false;
      readonly final: boolean;
      readonly code: string;
      readonly maybe?: true;
      readonly optedOut?: true;
    };

/** A text under way: the reply with that entry, or the text that was sent as that row of work. */
export type TextName = `reply-${number}` | `work-${number}`;

/**
 * waiting    the carrier has it
 * handed-on  the network has it; many report no more than that, so it counts as arrived unless `lost` follows
 * arrived    the phone has it
 * lost       it cannot be delivered
 */
export type TextState = 'waiting' | 'handed-on' | 'arrived' | 'lost';

export interface TextReport {
  readonly about: { readonly reply: number } | { readonly work: number };
  readonly state: TextState;
  /** It is lost because that phone wants no texts. */
  readonly optedOut: boolean;
}

/** What the carrier keeps of a guest's pictures and spoken messages, or why it cannot be had, in words for whoever wants it. */
export type FetchedMedia =
  | { readonly fetched: true; readonly bytes: Uint8Array }
  | { readonly fetched: false; readonly why: string };

export interface Carrier {
  /** Whether the carrier reports on the delivery of replies; if so, an unconfirmed reply is sent again as a text. */
  readonly reportsDelivery: boolean;
  sendText(text: OutboundText): Promise<Sent>;
  /** Rings a phone. `sent` says that the carrier took it, not that anyone answered. */
  placeCall(call: OutboundCall): Promise<Sent>;
  /** Whether the carrier answers and knows this desk, without sending anything. */
  reachable?(): Promise<boolean>;
  /**
   * Fetches a picture that came with a text or a message left on the phone, by the reference that came with it. Never throws
   * for what the carrier answers.
   */
  fetchMedia?(reference: string, what: 'picture' | 'message'): Promise<FetchedMedia>;
}

/** What the carrier's webhooks need of the desk. */
export interface TextDesk {
  /** Answers one text in one transaction. Throws when the records cannot be written. */
  receive(inbound: Inbound): Promise<Reply>;
  /** The stored reply of a message id, for the fallback; null when the message is not known. */
  storedReply(messageId: string): Promise<Reply | null>;
  /**
   * What the carrier says of a text under way. Reports may come late, twice and out of order: one that leads back is
   * dropped. A lost reply is sent once more as a text of its own; a lost text of a callout brings its next round.
   */
  textReported(report: TextReport): Promise<void>;
  /** What a guest is told when the records cannot be written: safe whatever the text was. Pure. */
  safeReply(inbound: Inbound): string;
  /** Tells the owner and the technician directly, from settings, that a text could not be handled. */
  alarm(inbound: Inbound): Promise<void>;
}

/** One turn of a call that the desk placed: it was answered (turn 0), or a key was pressed, or none for a while. */
export interface CallTurn {
  /** The `workId` of the call. */
  readonly call: number;
  /** Counted from 0; each is answered once. */
  readonly turn: number;
  /** Null when no key was pressed. */
  readonly digits: string | null;
  /** An answering machine or a fax picked up. */
  readonly machine: boolean;
  /** After being put through to a caller: whether they were reached. Left out at any other turn. */
  readonly putThrough?: boolean;
}

/** What is said in a turn of a call that the desk placed, and whether a key is waited for. */
export interface Spoken {
  readonly lang: Language;
  readonly sentences: readonly string[];
  /** The turn that the next key begins; null ends the call. */
  readonly nextTurn: number | null;
  /** The queue in which a caller waits whom the phone is put through to; the next turn begins when they have talked. */
  readonly joins?: string;
  /** Recorded messages that are played before the last sentence. */
  readonly plays?: readonly string[];
}

export interface CallReport {
  readonly call: number;
  /** `failed` also for a call that was called off or could not be placed. */
  readonly outcome: 'completed' | 'busy' | 'no-answer' | 'failed';
}

/** What came of asking a caller, or of letting them wait. */
export type FromCaller =
  | { readonly came: 'nothing' }
  | { readonly came: 'keys'; readonly keys: string }
  /** What the recognition made of it, and how sure it is, 0 to 1. */
  | { readonly came: 'speech'; readonly words: string; readonly confidence: number }
  /** They left the queue: put through and hung up on, sent on, or gone. */
  | { readonly came: 'queue'; readonly result: 'talked' | 'left' | 'gone' | 'failed' }
  | { readonly came: 'recording'; readonly address: string; readonly lengthS: number };

/** One turn of a call that came in. */
export interface CallerTurn {
  /** The carrier's id of the call; unique. */
  readonly callId: string;
  /** E.164; null where the number is hidden. */
  readonly from: string | null;
  /** Counted from 0, the call itself; each is answered once. */
  readonly turn: number;
  readonly said: FromCaller;
}

/** A sentence and the language it is said in: a choice of languages is offered in each of them. */
export interface Sentence {
  readonly lang: Language;
  readonly words: string;
}

/** What happens after the words. */
export type AfterWords =
  | {
      readonly do: 'listen';
      readonly turn: number;
      readonly lang: Language;
      /** Words that the recognition is told to expect. */
      readonly hints: readonly string[];
      /** One key, or digits that the pound key ends. */
      readonly keys: 'one' | 'digits';
      /** Seconds of silence after which nothing is what came. */
      readonly patienceS: number;
    }
  /** The caller waits, hearing what `callerWaits` says, until someone is put through or they are sent on. */
  | { readonly do: 'queue'; readonly turn: number; readonly queue: string }
  /** Someone on the list is put through to the caller who waits in the queue; the turn begins when they have talked. */
  | { readonly do: 'join'; readonly turn: number; readonly queue: string }
  | { readonly do: 'record'; readonly turn: number; readonly longestS: number }
  /** Said to someone who waits: after a pause come the words of that number. */
  | { readonly do: 'wait'; readonly turn: number; readonly count: number; readonly pauseS: number }
  | { readonly do: 'leave-queue' }
  | { readonly do: 'hang-up' };

export interface SpokenToCaller {
  readonly sentences: readonly Sentence[];
  readonly after: AfterWords;
}

/** What the webhooks of calls need of the desk. */
export interface CallDesk {
  /** Answers one turn in one transaction; the same turn again gets the same words. */
  callTurn(turn: CallTurn): Promise<Spoken>;
  /** A call has ended, in whatever way. Said twice it does nothing the second time. */
  callEnded(report: CallReport): Promise<void>;
  /** Answers one turn of a call that came in, in one transaction; the same turn again gets the same words. */
  callerTurn(turn: CallerTurn): Promise<SpokenToCaller>;
  /** What is said to a caller who waits in the queue since that turn, for the `count`th time, from 0. */
  callerWaits(waiting: {
    readonly callId: string;
    readonly turn: number;
    readonly count: number;
  }): Promise<SpokenToCaller>;
  /** A call that came in has ended. Said twice, or of a call that is not known, it does nothing. */
  callerGone(callId: string): Promise<void>;
}
