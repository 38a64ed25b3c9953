import type { Language } from '../words/heard.ts';
import type { Step, Wording } from './document.ts';
import type { FlowBook } from './book.ts';
import type { Facts, Setting } from './facts.ts';
import { fillPlaceholders } from './needs.ts';

/** How a setting is said: "2", "3.5" or "2 to 2.5". */
function saySetting(setting: Setting | null, lang: Language): string | null {
  if (setting === null) return null;
  const { fromLpm, toLpm } = setting;
  if (fromLpm === toLpm) return String(fromLpm);
  return `${fromLpm} ${lang === 'es' ? 'a' : 'to'} ${toLpm}`;
}

/** Where a setting comes from, in a guest's words. */
const ORDER_OR_SHEET: Readonly<Record<Language, Readonly<Record<'order' | 'sheet', string>>>> = {
  en: { order: 'your order', sheet: 'our signed sheet' },
  es: { order: 'su orden', sheet: 'nuestra hoja firmada' },
};

/** Where an outlet is, in a guest's words: "by the window". A place that the book has no words for is one on another wall. */
export function sayOutlet(book: FlowBook, place: string, lang: Language): string | null {
  const places = book.phrases.labels['outlet-place'];
  return (places?.[place] ?? places?.['other-wall'])?.[lang] ?? null;
}

/** The value of a placeholder, or null where the fact is not known. */
function factValue(name: string, facts: Facts, lang: Language, book: FlowBook): string | null {
  switch (name) {
    case 'setting':
      return saySetting(facts.setting, lang);
    case 'setting-for-one':
      return saySetting(facts.settingForOne, lang);
    case 'setting-for-two':
      return saySetting(facts.settingForTwo, lang);
    case 'mask-setting':
      return saySetting(facts.maskSetting, lang);
    case 'order-or-sheet':
      return ORDER_OR_SHEET[lang][facts.settingFromSheet ? 'sheet' : 'order'];
    case 'maximum':
      return facts.maximumFlowRateLpm === null ? null : String(facts.maximumFlowRateLpm);
    case 'emergency-number':
      return facts.emergencyNumber;
    case 'direct-number':
      return facts.directNumber;
    case 'outfit':
      return facts.outfit;
    case 'address':
      return facts.address;
    case 'room':
      return facts.room;
    case 'front-desk':
      return facts.frontDesk;
    case 'unit-tag':
      return facts.unitTag;
    case 'refill-hours': {
      const hours = facts.refillHours ?? book.limits.limits['refill-every-h']?.value;
      return hours === undefined ? null : String(hours);
    }
    case 'known-outlet':
      return facts.knownOutlet === null ? null : sayOutlet(book, facts.knownOutlet, lang);
    default:
      return null;
  }
}

export const FACT_PLACEHOLDERS = [
  'setting',
  'setting-for-one',
  'setting-for-two',
  'mask-setting',
  'order-or-sheet',
  'maximum',
  'emergency-number',
  'direct-number',
  'outfit',
  'address',
  'room',
  'front-desk',
  'unit-tag',
  'known-outlet',
  'refill-hours',
] as const;

/** What only the words about a callout may name: who took it, until when, at which property. */
export const CALLOUT_PLACEHOLDERS = ['name', 'time', 'property'] as const;
export type CalloutFacts = Readonly<Partial<Record<(typeof CALLOUT_PLACEHOLDERS)[number], string>>>;
/** What only the words of a call may name: who is rung, what was heard, a key and what it stands for. */
export const VOICE_PLACEHOLDERS = ['name', 'words', 'key', 'choice'] as const;
export type VoiceFacts = Readonly<Partial<Record<(typeof VOICE_PLACEHOLDERS)[number], string>>>;

/**
 * A wording in one language with its numbers and facts filled in.
 * @throws Error for a fact that is not known: the machine must not have come to such a step.
 */
export function fill(
  wording: Wording,
  lang: Language,
  facts: Facts,
  book: FlowBook,
  callout: CalloutFacts | VoiceFacts = {},
): string {
  return fillPlaceholders(wording[lang], (name) => {
    const limit = book.limits.limits[name];
    const ofCallout = (callout as Readonly<Record<string, string>>)[name];
    const value = limit === undefined ? (ofCallout ?? factValue(name, facts, lang, book)) : String(limit.value);
    if (value === null) throw new Error(`{${name}} is not known here; the step that names it must not be reached`);
    return value;
  }).trim();
}

/** The choices of a step as numbered lines, from the one list that the keypad uses too. */
function choiceLines(step: Step, lang: Language, book: FlowBook): readonly string[] {
  if (step.hears === undefined || step.choices === undefined) return [];
  const labels = book.phrases.labels[step.hears] ?? {};
  return step.choices.map((value, index) => `${index + 1} ${labels[value]?.[lang] ?? value}`);
}

/** One screen of a phone: what is told, what is asked, and the numbered choices. */
export function sayStep(step: Step, lang: Language, facts: Facts, book: FlowBook): string {
  const words = [step.tell, step.ask].filter((wording) => wording !== undefined);
  const sentences = words.map((wording) => fill(wording, lang, facts, book)).join(' ');
  return [sentences, ...choiceLines(step, lang, book)].join('\n');
}
