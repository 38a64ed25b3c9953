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

export type Sent =
  | { readonly sent: true; readonly providerId: string }
  /** `final`: trying again cannot help (invalid number, opted out). `code` is the provider's, for the log. */
  | { readonly sent: false; readonly final: boolean; readonly code: string };

export interface Carrier {
  /** Whether the carrier reports on the delivery of replies; if so, an unconfirmed reply is sent again as a text. */
  readonly reportsDelivery: boolean;
  sendText(text: OutboundText): Promise<Sent>;
}

/** What the carrier's webhooks need of the desk. */
export interface TextDesk {
  /** Answers one text in one transaction. Throws when the records cannot be written. */
  receive(inbound: Inbound): Promise<Reply>;
  /** The stored reply of a message id, for the fallback; null when the message is not known. */
  storedReply(messageId: string): Promise<Reply | null>;
  /** The carrier handed the reply with this entry id on: its 30-second watch ends, but it can still turn out lost. */
  replySent(entryId: number): Promise<void>;
  /** The carrier says that the reply was delivered. */
  replyConfirmed(entryId: number): Promise<void>;
  /** The carrier says that the reply cannot be delivered: it is sent once more, as a text of its own. */
  replyFailed(entryId: number): Promise<void>;
  /** The carrier says that a text sent as work cannot be delivered: a callout it was for goes on to the next round. */
  textFailed(workId: number): Promise<void>;
  /** What a guest is told when the records cannot be written: safe whatever the text was. Pure. */
  safeReply(inbound: Inbound): string;
  /** Tells the owner and the technician directly, from settings, that a text could not be handled. */
  alarm(inbound: Inbound): Promise<void>;
}
