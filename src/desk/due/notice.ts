import type { Phrases } from '../../flow/document.ts';
import { forPhone } from '../../flow/for-phone.ts';
import { fill } from '../../flow/say.ts';
import type { Instant } from '../../time/instant.ts';
import { bottleOf } from './bottle.ts';
import { factsOf } from '../guest/facts-of.ts';
import type { Stay } from '../property.ts';
import type { Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** A text that nobody asked for: its reader, its words, and the zone whose daytime it keeps to. */
export interface Notice {
  readonly to: string;
  readonly body: string;
  readonly zone: string;
  /** Two notices with one key are never both under way. */
  readonly key: string;
}

/** Puts a notice among the work. It belongs to nobody's order: a check-back must not wait behind one till the morning. */
export async function addNotice(tx: Tx, { to, body, zone, key }: Notice, now: Instant): Promise<void> {
  await tx.addWork({
    kind: 'notice',
    dueAt: now,
    notAfter: null,
    key,
    phone: null,
    danger: false,
    payload: { to, body, entryId: null, zone },
  });
}

/** A notice's words for one phone of a stay, in the language that phone is known to write, else English. */
export async function wordsForGuest(
  desk: Surroundings,
  tx: Tx,
  phrase: keyof Phrases['notices'],
  told: { readonly stay: Stay; readonly phone: string },
): Promise<string> {
  const { lang: known } = await tx.lockPhone(told.phone);
  const lang = known ?? 'en';
  const { stay } = told;
  const { book } = desk.flows;
  const refillHours = bottleOf(book, stay, await tx.settingSheet()).hours;
  const place = { stay, property: stay.property, room: stay.room, refillHours };
  const facts = factsOf(desk.outfit, place, null, desk.now());
  return forPhone(fill(book.phrases.notices[phrase], lang, facts, book), lang);
}
