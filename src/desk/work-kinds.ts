import { z } from 'zod';

/** One round of trying the people of a callout, counted from 0. */
const round = z.object({ calloutId: z.number(), round: z.number() });
export type CalloutRound = z.infer<typeof round>;

/** A call the desk places: to someone on the list, to a guest in danger, or to test the list. `phone` is E.164. */
const call = z.discriminatedUnion('about', [
  round.extend({
    about: z.literal('callout'),
    phone: z.string(),
    personId: z.number(),
    /** The carrier's id of the call whose caller waits to be put through. */
    forCaller: z.string().optional(),
  }),
  z.object({
    about: z.literal('guest'),
    phone: z.string(),
    calloutId: z.number(),
    conversationId: z.number(),
    /** Which try this is, counted from 1. */
    tried: z.number(),
  }),
  z.object({ about: z.literal('drill'), phone: z.string(), drillId: z.number(), personId: z.number() }),
]);
type Call = z.infer<typeof call>;
export type CallAbout<About extends Call['about']> = Extract<Call, { about: About }>;

const textOf = { to: z.string(), body: z.string(), entryId: z.number().nullable() };
const rental = z.object({ rentalId: z.number() });

/** What may be due, and what each kind of work carries. Read back from the records, so it is checked again. */
export const workSchema = z.discriminatedUnion('kind', [
  /** A text of a callout or of danger; with the round of a callout that it tries someone in. */
  z.object({ kind: z.literal('text'), payload: z.object({ ...textOf, round: round.optional() }) }),
  /** A question of the desk's own to a guest, out of their conversation. */
  z.object({ kind: z.literal('check-back'), payload: z.object(textOf) }),
  /** A text that nobody asked for; in the daytime of its zone. */
  z.object({ kind: z.literal('notice'), payload: z.object({ ...textOf, zone: z.string() }) }),
  /** A reply's delivery should have been reported by now. */
  z.object({ kind: z.literal('reply-watch'), payload: z.object({ ...textOf, entryId: z.number() }) }),
  /** The people of a callout are to be tried (again). */
  z.object({ kind: z.literal('ring'), payload: round }),
  /** A call to place. */
  z.object({ kind: z.literal('call'), payload: call }),
  /** The guest of a danger callout is to be asked how they are, for the so-manieth time, counted from 0. */
  z.object({ kind: z.literal('danger-check'), payload: z.object({ calloutId: z.number(), check: z.number() }) }),
  /** Someone should have taken a callout by now. */
  z.object({ kind: z.literal('untaken'), payload: z.object({ calloutId: z.number() }) }),
  /** A step waited long enough for an answer, or until a time of the day. */
  z.object({
    kind: z.literal('silence'),
    payload: z.object({
      conversationId: z.number(),
      guestMessages: z.number(),
      byTheClock: z.literal(true).optional(),
    }),
  }),
  /** A technician was there; the guest is to be asked whether all is well. */
  z.object({
    kind: z.literal('after-visit'),
    payload: z.object({ conversationId: z.number(), guestMessages: z.number() }),
  }),
  /** A conversation may have gone quiet. */
  z.object({ kind: z.literal('quiet'), payload: z.object({ conversationId: z.number() }) }),
  /** What the rentals and the calendar ask for is to be planned; or the rest of it, of the rentals behind one. */
  z.object({ kind: z.literal('plan'), payload: z.object({ behindRental: z.number() }).nullable() }),
  /** The delivery day of a rental. */
  z.object({ kind: z.literal('welcome'), payload: rental.extend({ phone: z.string(), day: z.string() }) }),
  /** The day before a rental's last. */
  z.object({ kind: z.literal('collection'), payload: rental.extend({ phone: z.string(), day: z.string() }) }),
  /** A bottle comes near its minimum line. */
  z.object({ kind: z.literal('refill'), payload: rental.extend({ lowAt: z.string() }) }),
  /** The owners hear of the day and night up to this morning. */
  z.object({ kind: z.literal('summary'), payload: z.object({ day: z.string() }) }),
  /** Words and numbers that are older than the setting allows are to be taken out; in parts, counted from 0. */
  z.object({
    kind: z.literal('retention'),
    payload: z.object({ day: z.string(), days: z.number(), part: z.number() }),
  }),
  /** The owners are reminded to test the list. */
  z.object({ kind: z.literal('drill-reminder'), payload: z.null() }),
]);
export type DeskWork = z.infer<typeof workSchema>;
export type WorkKind = DeskWork['kind'];
export type CallWork = Extract<DeskWork, { kind: 'call' }>;
/** Kinds whose doing is a text handed to the carrier; the doing of all others is one transaction. */
const TEXT_KINDS = ['text', 'check-back', 'notice', 'reply-watch'] as const;
export type TextWork = Extract<DeskWork, { kind: (typeof TEXT_KINDS)[number] }>;

export function isTextWork(work: DeskWork): work is TextWork {
  return isTextKind(work.kind);
}

/** Whether rows of a kind are texts, of which a carrier takes only so many a second. */
export function isTextKind(kind: string): boolean {
  return (TEXT_KINDS as readonly string[]).includes(kind);
}

export interface KindRules {
  /** How late it is still done, from when it was due; null is however late. A row may say its own instant. */
  readonly lapsesAfter: string | null;
  /** `day` waits for 8 in the morning to 9 in the evening where its reader is. */
  readonly hours: 'any' | 'day';
  /**
   * When nobody knows whether the carrier took it: a text of a callout goes out again, a reminder does not. Danger goes
   * out again whatever its kind.
   */
  readonly inDoubt: 'rather-twice' | 'rather-never';
  /** Whether its time is a wait counted from when it was written, which moves with a clock that is set back. */
  readonly isAWait: boolean;
}

/** What is done once in one transaction is never in doubt: it is written, or it is not. */
const IN_THE_RECORDS: KindRules = { lapsesAfter: null, hours: 'any', inDoubt: 'rather-twice', isAWait: false };

export const KINDS: Readonly<Record<WorkKind, KindRules>> = {
  text: { lapsesAfter: null, hours: 'any', inDoubt: 'rather-twice', isAWait: true },
  // An answer to the guest's own matter, so at any hour; an hour late it would only wake someone.
  'check-back': { lapsesAfter: 'PT1H', hours: 'any', inDoubt: 'rather-never', isAWait: true },
  notice: { lapsesAfter: 'PT2H', hours: 'day', inDoubt: 'rather-never', isAWait: false },
  // Someone waits for it: a reply that is there twice does less harm than none.
  'reply-watch': { lapsesAfter: 'PT4H', hours: 'any', inDoubt: 'rather-twice', isAWait: true },
  ring: { ...IN_THE_RECORDS, isAWait: true },
  call: { lapsesAfter: null, hours: 'any', inDoubt: 'rather-twice', isAWait: true },
  'danger-check': { ...IN_THE_RECORDS, isAWait: true },
  untaken: { ...IN_THE_RECORDS, isAWait: true },
  silence: { ...IN_THE_RECORDS, isAWait: true },
  'after-visit': { ...IN_THE_RECORDS, lapsesAfter: 'PT2H', isAWait: true },
  quiet: { ...IN_THE_RECORDS, isAWait: true },
  plan: IN_THE_RECORDS,
  // These write a notice, and it is the notice that keeps to the daytime.
  welcome: { ...IN_THE_RECORDS, lapsesAfter: 'PT18H' },
  collection: { ...IN_THE_RECORDS, lapsesAfter: 'PT5H' },
  // Never lapses: a reminder that is too late is left out, but the next one is planned by it.
  refill: IN_THE_RECORDS,
  summary: { ...IN_THE_RECORDS, lapsesAfter: 'PT6H' },
  retention: { ...IN_THE_RECORDS, lapsesAfter: 'PT20H' },
  'drill-reminder': { ...IN_THE_RECORDS, lapsesAfter: 'PT168H' },
};

export const silenceKey = (conversationId: number): string => `silence:${conversationId}`;
export const afterVisitKey = (conversationId: number): string => `after-visit:${conversationId}`;
export const quietKey = (conversationId: number): string => `quiet:${conversationId}`;
export const replyWatchKey = (entryId: number): string => `reply:${entryId}`;
export const ringKey = (calloutId: number, round: number): string => `ring:${calloutId}:${round}`;
export const untakenKey = (calloutId: number): string => `untaken:${calloutId}`;
export const dangerCheckKey = (calloutId: number, check: number): string => `danger-check:${calloutId}:${check}`;
export const guestCallKey = (conversationId: number): string => `call-guest:${conversationId}`;
export const refillKey = (rentalId: number): string => `refill:${rentalId}`;
export const PLAN_KEY = 'plan';
