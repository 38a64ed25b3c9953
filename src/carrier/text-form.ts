import { z } from 'zod';
import type { Inbound } from '../desk/carrier.ts';
import { senderOf } from './phone.ts';
import { printable } from './printable.ts';

/** The carrier sends at most ten pictures with a text. */
const MOST_MEDIA = 10;

/** Of the carrier's fields for an incoming text, those the desk uses; everything else in the form is let be. */
const fields = z.looseObject({
  MessageSid: z.string().regex(/^[A-Za-z0-9_-]{1,64}$/, 'must be the carrier’s message id: 1 to 64 letters and digits'),
  From: z.string('must be there once'),
  To: z.string('must be there once'),
  Body: z.string('must be there at most once').default(''),
  // A miscounted picture must not cost the guest an answer.
  NumMedia: z.coerce.number().int().min(0).catch(0),
  // There only for accounts whose keywords the carrier manages; a word it adds next year is a guest's word.
  OptOutType: z.enum(['STOP', 'START', 'HELP']).optional().catch(undefined),
});

const KEYWORDS = { STOP: 'stop', START: 'start', HELP: 'help' } as const;

export type TextForm =
  | { readonly kind: 'text'; readonly inbound: Inbound }
  /** From a machine: nothing is said or stored. */
  | { readonly kind: 'not-to-be-answered' }
  /** `problem` says which field and what is allowed, without what came. */
  | { readonly kind: 'invalid'; readonly problem: string };

function mediaIn(form: Readonly<Record<string, unknown>>, count: number): string[] {
  return Array.from({ length: Math.min(count, MOST_MEDIA) }, (_, index) => form[`MediaUrl${index}`])
    .filter((address) => typeof address === 'string')
    .filter((address) => /^https?:\/\//.test(address));
}

/** Reads a signed form into the desk's terms: the sender in E.164, the words without control characters. */
export function readTextForm(form: unknown): TextForm {
  const read = fields.safeParse(form);
  if (!read.success) return { kind: 'invalid', problem: z.prettifyError(read.error) };
  const { MessageSid, From, To, Body, NumMedia, OptOutType, ...rest } = read.data;
  const sender = senderOf(From);
  if (sender.kind === 'invalid') {
    return { kind: 'invalid', problem: 'From must be a phone number in E.164, such as +19705550123' };
  }
  if (sender.kind === 'not-to-be-answered') return sender;
  return {
    kind: 'text',
    inbound: {
      id: MessageSid,
      from: sender.e164,
      to: To,
      text: printable(Body),
      media: mediaIn(rest, NumMedia),
      ...(OptOutType === undefined ? {} : { optOut: KEYWORDS[OptOutType] }),
    },
  };
}
