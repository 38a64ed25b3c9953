import { z } from 'zod';

/** One round of trying the people of a callout, counted from 0. */
const round = z.object({ calloutId: z.number(), round: z.number() });
export type CalloutRound = z.infer<typeof round>;

/** What may be due, and what each kind of work carries. Read back from the records, so it is checked again. */
export const workSchema = z.discriminatedUnion('kind', [
  /** A text to send; with the round of a callout that it tries someone in. */
  z.object({
    kind: z.literal('text'),
    payload: z.object({ to: z.string(), body: z.string(), entryId: z.number().nullable(), round: round.optional() }),
  }),
  /** The people of a callout are to be tried (again). */
  z.object({ kind: z.literal('ring'), payload: round }),
  /** A step waited long enough for an answer. */
  z.object({
    kind: z.literal('silence'),
    payload: z.object({ conversationId: z.number(), guestMessages: z.number() }),
  }),
  /** A reply's delivery should have been reported by now. */
  z.object({
    kind: z.literal('reply-watch'),
    payload: z.object({ to: z.string(), body: z.string(), entryId: z.number() }),
  }),
  /** A conversation may have gone quiet. */
  z.object({ kind: z.literal('quiet'), payload: z.object({ conversationId: z.number() }) }),
]);
export type DeskWork = z.infer<typeof workSchema>;

export const silenceKey = (conversationId: number): string => `silence:${conversationId}`;
export const quietKey = (conversationId: number): string => `quiet:${conversationId}`;
export const replyWatchKey = (entryId: number): string => `reply:${entryId}`;
export const ringKey = (calloutId: number, round: number): string => `ring:${calloutId}:${round}`;
