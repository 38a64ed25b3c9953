import { z } from 'zod';
import type { FromCaller } from '../desk/carrier.ts';
import { phoneOf } from '../reading/phone.ts';
import { printable } from './printable.ts';
import { wasPutThrough } from './put-through.ts';

/** What the carrier puts in the place of a hidden number: the word, spelled on a telephone's keys. From memory of its documents. */
const HIDDEN_SPELLED: ReadonlySet<string> = new Set(
  ['266696687', '7378742833', '86282452253', '2562533', '8656696'], // anonymous, restricted, unavailable, blocked, unknown
);

/** A number that somebody could be called at, E.164; null where it is hidden. */
export function callerOf(from: string | undefined): string | null {
  if (from === undefined || HIDDEN_SPELLED.has(from.replace(/^\+/, ''))) return null;
  return phoneOf(from);
}

/** Of the carrier's fields for a turn of a call, those the desk uses. Whatever is odd in the others must not end a call. */
export const callerForm = z.looseObject({
  CallSid: z.string().regex(/^[A-Za-z0-9_-]{1,64}$/, 'must be the carrier’s call id: 1 to 64 letters and digits'),
  From: z.string().optional().catch(undefined),
  Digits: z.string().optional().catch(undefined),
  SpeechResult: z.string().optional().catch(undefined),
  Confidence: z.coerce.number().min(0).max(1).catch(0),
  QueueResult: z.string().optional().catch(undefined),
  DialCallStatus: z.string().optional().catch(undefined),
  RecordingUrl: z
    .url({ protocol: /^https?$/ })
    .optional()
    .catch(undefined),
  RecordingDuration: z.coerce.number().int().min(0).catch(0),
});
type CallerForm = z.infer<typeof callerForm>;

/** No word that people say is longer, and no key is pressed more often in one turn. */
const LONGEST_SPEECH = 2_000;
const KEYS = /^[0-9*#]{1,20}$/;

/** How a caller left the queue, by the carrier's word; from general knowledge of its documents. */
const QUEUE_RESULTS: ReadonlyMap<string, 'talked' | 'left' | 'gone'> = new Map([
  ['bridged', 'talked'],
  ['leave', 'left'],
  ['redirected', 'left'],
  ['redirected-from-bridged', 'talked'],
  ['hangup', 'gone'],
]);

/** What came of asking: in doubt between keys and words, the keys, which nobody mishears. */
export function saidIn(form: CallerForm): FromCaller {
  if (form.QueueResult !== undefined) return { came: 'queue', result: QUEUE_RESULTS.get(form.QueueResult) ?? 'failed' };
  if (form.DialCallStatus !== undefined) {
    return { came: 'queue', result: wasPutThrough(form.DialCallStatus) ? 'talked' : 'failed' };
  }
  if (form.RecordingUrl !== undefined) {
    return { came: 'recording', address: form.RecordingUrl, lengthS: form.RecordingDuration };
  }
  if (form.Digits !== undefined && KEYS.test(form.Digits)) return { came: 'keys', keys: form.Digits };
  const words = printable(form.SpeechResult ?? '')
    .trim()
    .slice(0, LONGEST_SPEECH);
  return words === '' ? { came: 'nothing' } : { came: 'speech', words, confidence: form.Confidence };
}
