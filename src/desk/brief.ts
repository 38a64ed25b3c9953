import { parsePhoneNumberFromString } from 'libphonenumber-js';
import type { Callout, Conversation, Entry } from './records.ts';
import type { Property, Stay } from './property.ts';

/** A phone number as people here read it: "(970) 555-0101"; others in international form. */
export function readablePhone(e164: string): string {
  const phone = parsePhoneNumberFromString(e164);
  if (phone === undefined) return e164;
  return phone.countryCallingCode === '1' ? phone.formatNational() : phone.formatInternational();
}

export interface BriefInput {
  readonly callout: Pick<Callout, 'matter' | 'urgency'>;
  readonly conversation: Pick<Conversation, 'phone' | 'room'>;
  readonly stay: Stay | null;
  readonly property: Property | null;
  readonly entries: readonly Entry[];
  readonly textsBlocked: boolean;
}

/** The guest's words are cut so that the rest of the brief fits beside them. */
const LAST_WORDS = 80;

function shortened(words: string): string {
  const one = words.replace(/\s+/g, ' ').trim();
  return one.length <= LAST_WORDS ? one : `${one.slice(0, LAST_WORDS - 3)}...`;
}

function sentence(words: string | null | undefined): string {
  return words == null || words.trim() === '' ? '' : `${words.trim().replace(/[.\s]+$/, '')}.`;
}

/** The guest's last words; in danger the last ones that were heard as danger, since "yes" tells nobody anything. */
function saidBy(entries: readonly Entry[], danger: boolean): string {
  const said = entries.filter((entry) => entry.who === 'guest' && entry.words.trim() !== '');
  const worrying = said.filter((entry) => (entry.heard as { danger?: string } | null)?.danger !== 'none');
  const last = (danger ? worrying.at(-1) : undefined) ?? said.at(-1);
  return last === undefined ? '' : `Said: "${shortened(last.words)}"`;
}

/**
 * What a technician must know to go: what, who, where, the guest's last words, and in danger whom to call, since 911 from
 * elsewhere reaches the wrong centre.
 */
export function writeBrief({ callout, conversation, stay, property, entries, textsBlocked }: BriefInput): string {
  const danger = callout.urgency === 'danger';
  const room = stay?.room ?? conversation.room;
  const unit = stay === null ? null : `unit ${stay.unit.tag}`;
  const where = property === null ? 'Place not known' : [property.name, room, unit].filter(Boolean).join(', ');
  const parts = [
    textsBlocked ? 'CALL, TEXTS BLOCKED.' : '',
    `${danger ? 'DANGER' : callout.urgency === 'tonight' ? 'Tonight' : 'For the morning'}: ${callout.matter}.`,
    `${stay?.guestName ?? 'Guest not known'}, ${readablePhone(conversation.phone)}${stay?.fragile === true ? ', fragile' : ''}.`,
    `${where}.`,
    sentence(property?.entrance),
    saidBy(entries, danger),
    danger && property?.dispatchNumber != null ? `Dispatch ${readablePhone(property.dispatchNumber)}.` : '',
    danger && property?.frontDeskPhone != null ? `Front desk ${readablePhone(property.frontDeskPhone)}.` : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}
