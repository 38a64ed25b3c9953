/**
 * What a simulated phone company saw in a trial, as plain values. Instants are milliseconds since the trial began, by the
 * machine's own clock, whatever the desk's clock did meanwhile.
 */
export interface CompanyLog {
  readonly texts: readonly WrittenText[];
  readonly handed: readonly Handed[];
  readonly reports: readonly PostedReport[];
  readonly disturbances: readonly Disturbance[];
}

/** A text that someone wrote, and each time it was brought to the desk. */
export interface WrittenText {
  readonly id: string;
  readonly from: string;
  readonly who: 'guest' | 'technician';
  /** Whether it says that someone is in danger now. */
  readonly danger: boolean;
  readonly deliveries: readonly Delivery[];
}

export interface Delivery {
  readonly at: number;
  readonly endedAt: number;
  /** Null where the connection failed, the answer was no success, or none came in time. */
  readonly answer: DeliveryAnswer | null;
}

export interface DeliveryAnswer {
  /** Null for an empty response, which sends nothing. */
  readonly reply: string | null;
  /** Which entry the reply asks for reports on; null for the safe reply, which is in no records. */
  readonly entryId: number | null;
}

/** A text or a call that the desk handed over. */
export interface Handed {
  readonly at: number;
  readonly what: 'text' | 'call';
  /** The company's id for it. */
  readonly id: string;
  /** The desk's row of work; 0 for what it sends past its records. */
  readonly work: number;
  readonly to: string;
  readonly body: string;
  /** Whether the company acted on it: a phone got the text, or rang. */
  readonly taken: boolean;
  /** Whether the desk was told how it was: a whole answer, that is no server error, before the connection ended. */
  readonly told: boolean;
}

/** A report on a reply or a text sent as work. */
export interface PostedReport {
  readonly about: 'reply' | 'work';
  readonly row: number;
  readonly status: string;
  /** When the desk had taken it; null when it did not. */
  readonly takenAt: number | null;
}

/** Something the trial did to the desk. */
export interface Disturbance {
  readonly what: string;
  readonly from: number;
  readonly to: number;
}
