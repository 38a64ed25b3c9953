import { parsePhoneNumberFromString } from 'libphonenumber-js';
import { inBasicAlphabet } from '../../care/basic-alphabet.ts';
import { textParts } from '../../care/text-parts.ts';
import { aloud } from '../../flow/aloud.ts';
import { secondsToSay } from '../../flow/speech-time.ts';
import type { Callout, Conversation, Entry } from '../records.ts';
import type { Property, Stay } from '../property.ts';
import { isHidden } from '../guest/hidden-number.ts';
import { triedIn } from './tried.ts';

/** A phone number as people here read it: "(970) 555-0101"; others in international form; hidden ones as such. */
export function readablePhone(e164: string): string {
  if (isHidden(e164)) return 'number hidden';
  const phone = parsePhoneNumberFromString(e164);
  if (phone === undefined) return e164;
  return phone.countryCallingCode === '1' ? phone.formatNational() : phone.formatInternational();
}

/** A guest of a callout. */
export interface BriefGuest {
  readonly conversation: Pick<Conversation, 'phone' | 'room'>;
  readonly stay: Stay | null;
  /** Opted out, or texts to them do not arrive. */
  readonly textsBlocked: boolean;
}

export interface BriefInput {
  readonly callout: Pick<Callout, 'matter' | 'urgency'>;
  /** The one who wrote first; with several rooms, all of them. At least one. */
  readonly guests: readonly [BriefGuest, ...BriefGuest[]];
  readonly property: Property | null;
  /** Of the first one's conversation. */
  readonly entries: readonly Entry[];
  /** Characters of what is said around it in the same text. @defaultValue 50 */
  readonly around?: number;
}

/** At most two text parts, with room for "Callout 1234 is yours. " before and the words to reply after. */
const MOST_PARTS = 2;
const AROUND = 50;
/** The guest's words are cut so that the rest of the brief fits beside them; in need to half of it. */
const LAST_WORDS = 80;

/** Cut behind a word, where one ends in the second half; in the middle of what has none. */
function shortened(words: string, most: number): string {
  const one = words.replaceAll(/\s+/g, ' ').trim();
  if (one.length <= most) return one;
  const cut = one.slice(0, most - 2);
  const end = cut.lastIndexOf(' ');
  return `${cut.slice(0, end > most / 2 ? end : most - 3).replace(/[\s.,;:]+$/, '')}...`;
}

/** With a full stop at its end, unless it was cut there. */
function sentence(words: string | null | undefined): string {
  if (words == null || words.trim() === '') return '';
  return words.endsWith('...') ? words : `${words.trim().replace(/[.\s]+$/, '')}.`;
}

/** Fewer words than this ("yes", "2") tell a technician nothing. */
const TELLING_WORDS = 3;

/** Keys and silences of a call: what they meant is told by what was tried. */
const NOT_WORDS = /^[[(]/;

/** The guest's last words that tell something; in danger the last ones that were heard as danger. */
function lastWords(entries: readonly Entry[], danger: boolean): string {
  const said = entries.filter(
    (entry) => entry.who === 'guest' && entry.words.trim() !== '' && !NOT_WORDS.test(entry.words),
  );
  const worrying = said.filter((entry) => (entry.heard as { danger?: string } | null)?.danger !== 'none');
  const telling = said.filter((entry) => entry.words.trim().split(/\s+/).length >= TELLING_WORDS);
  const last = ((danger ? worrying.at(-1) : undefined) ?? telling.at(-1) ?? said.at(-1))?.words ?? '';
  const plain = inBasicAlphabet(last).trim();
  return plain === '' && last !== '' ? '(not in Latin letters)' : plain;
}

function guestLine({ conversation, stay }: BriefGuest): Piece {
  const fragile = stay?.fragile === true ? ', fragile' : '';
  const name = stay?.guestName ?? 'Guest not known';
  return need(`${name}, ${readablePhone(conversation.phone)}${fragile}.`, 'at once', `${name}${fragile}.`);
}

const roomOf = ({ stay, conversation }: BriefGuest): string => stay?.room ?? conversation.room ?? 'room not known';

/** Fragile guests first: whoever goes there goes to them first. */
function roomLine(guests: readonly BriefGuest[], property: Property | null, names: boolean): string {
  const fragileFirst = guests.toSorted((a, b) => Number(b.stay?.fragile ?? false) - Number(a.stay?.fragile ?? false));
  const rooms = fragileFirst.map((guest) => {
    const marks = [
      guest.stay?.fragile === true ? 'fragile' : '',
      guest.textsBlocked ? 'CALL' : '',
      names ? readablePhone(guest.conversation.phone) : '',
    ].filter(Boolean);
    return marks.length === 0 ? roomOf(guest) : `${roomOf(guest)} (${marks.join(', ')})`;
  });
  return `${property?.name ?? 'Place not known'}, ${guests.length} rooms: ${rooms.join('; ')}.`;
}

/** One piece of the brief; the shorter wordings are used one after the other when room is short, '' the last of them. */
interface Piece {
  readonly wordings: readonly string[];
  /** The lowest is shortened first. */
  readonly worth: number;
  /** On the phone: said at once, or as one of the details that a key brings. Phone numbers wait: they are in the text. */
  readonly said: 'at once' | 'details';
  /** What is said on the phone, where that is not the first wording. */
  readonly spoken?: string;
}

const need = (words: string, said: Piece['said'] = 'at once', spoken = words): Piece => ({
  wordings: [words],
  worth: Infinity,
  said,
  spoken,
});

function pieces({ callout, guests, property, entries }: BriefInput): readonly Piece[] {
  const danger = callout.urgency === 'danger';
  const [first] = guests;
  const tried = triedIn(entries);
  const said = lastWords(entries, danger);
  const unit = first.stay === null ? null : `unit ${first.stay.unit.tag}`;
  const place = [property?.name ?? 'Place not known', first.stay?.room ?? first.conversation.room, unit];
  const what = `${danger ? 'DANGER' : callout.urgency === 'tonight' ? 'Tonight' : 'For the morning'}: ${callout.matter}.`;
  const who: readonly Piece[] =
    guests.length > 1
      ? [
          {
            wordings: [roomLine(guests, property, true), roomLine(guests, property, false)],
            worth: 5,
            said: 'at once',
            spoken: roomLine(guests, property, false),
          },
        ]
      : [guestLine(first), need(`${place.filter(Boolean).join(', ')}.`)];
  return [
    need(guests.length === 1 && first.textsBlocked ? 'CALL, TEXTS BLOCKED.' : '', 'details'),
    need(what),
    ...who,
    {
      wordings: [sentence(property?.entrance), sentence(shortened(property?.entrance ?? '', 50)), ''],
      worth: 2,
      said: 'details',
    },
    {
      // From the newest back, as many as there is room for.
      wordings: [...tried.map((_, cut) => `Tried: ${tried.slice(cut).join('; ')}.`), ''],
      worth: 1,
      said: 'details',
    },
    {
      wordings: said === '' ? [''] : [LAST_WORDS, LAST_WORDS / 2].map((most) => `Said: "${shortened(said, most)}".`),
      worth: 3,
      said: 'details',
    },
    need(
      danger && property?.dispatchNumber != null ? `Dispatch ${readablePhone(property.dispatchNumber)}.` : '',
      'details',
    ),
    {
      wordings: [
        danger && property?.frontDeskPhone != null ? `Front desk ${readablePhone(property.frontDeskPhone)}.` : '',
        '',
      ],
      worth: 4,
      said: 'details',
    },
  ];
}

/** As much of the pieces as fits, the least important shortened first and then left out. */
function composed(pieces: readonly Pick<Piece, 'wordings' | 'worth'>[], fits: (words: string) => boolean): string {
  const parts = pieces.map((piece) => ({ ...piece, wordings: piece.wordings.map(inBasicAlphabet), at: 0 }));
  const words = (): string =>
    parts
      .map((part) => part.wordings[part.at] ?? '')
      .filter((part) => part !== '')
      .join(' ');
  for (const part of parts.toSorted((a, b) => a.worth - b.worth)) {
    while (!fits(words()) && part.at < part.wordings.length - 1) part.at += 1;
  }
  const all = words();
  let end = all.length;
  // Only names and rooms far longer than records hold come to this.
  while (!fits(all.slice(0, end)) && end > 0) end -= 10;
  return all.slice(0, end);
}

/**
 * What a technician must know to go: what, who, where, what was tried, the guest's last words, and in danger whom to call,
 * since 911 from elsewhere reaches the wrong centre. At most two text parts with what is said around it. In the basic
 * alphabet, which holds most.
 */
export function writeBrief(input: BriefInput): string {
  const around = ' '.repeat(input.around ?? AROUND);
  return composed(pieces(input), (words) => textParts(words + around).parts <= MOST_PARTS);
}

/** The same on the phone: what is said at once, and the details that a key brings. Each takes a voice no longer than that. */
export function speakBrief(input: BriefInput, longestS: number): { readonly atOnce: string; readonly details: string } {
  const told = (when: Piece['said']): string => {
    const kept = pieces(input)
      .filter((piece) => piece.said === when)
      .map(({ wordings, worth, spoken }) => ({ worth, wordings: spoken === undefined ? wordings : [spoken] }));
    return composed(kept, (words) => secondsToSay(aloud(words), 'en') <= longestS);
  };
  return { atOnce: told('at once'), details: told('details') };
}
