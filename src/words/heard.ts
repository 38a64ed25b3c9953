/**
 * The vocabulary of hearing: everything the desk can make of one text.
 *
 * danger  how urgent what was heard is: `now`, `ask` or `none`
 * sign    what kind of danger
 * topic   which matter of the trade an opening text is about
 * kind    what a step listens for; each kind has its values, or is a number
 * keyword a carrier word that is the whole message (opt-out, opt-in, help)
 * move    a wish about the conversation itself: a person, back, again
 */

export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];

export const DANGERS = ['none', 'ask', 'now'] as const;
export type Danger = (typeof DANGERS)[number];

export const SIGNS = [
  'breathing',
  'cyanosis',
  'chest-pain',
  'confusion',
  'unsteady',
  'unresponsive',
  'frothy-cough',
  'seizure',
  'stroke',
  'low-saturation',
  'choking',
  'allergy',
  'injury',
  'overdose',
  'self-harm',
  'fire',
  'flame',
  'carbon-monoxide',
  'altitude-illness',
  'power-loss',
  'medical-question',
  'medical-history',
  'unclear',
] as const;
export type Sign = (typeof SIGNS)[number];

export const TOPICS = [
  'no-power',
  'continuous-alarm',
  'intermittent-alarm',
  'overflow-alarm',
  'low-or-no-flow',
  'float-reading',
  'humidifier-empty',
  'humidifier-overfull-or-water-in-tube',
  'humidifier-not-bubbling',
  'humidifier-leak-or-hiss',
  'cross-thread',
  'tubing-kink-or-disconnected',
  'cannula-fit',
  'setup-one',
  'setup-two',
  'setup-mask',
  'flow-question',
  'noise-or-heat',
  'smell-nonspecific',
  'accessories-missing',
  'delivery-or-pickup',
  'extend-or-return',
  'talk-to-a-person',
  'symptom-mild',
  'thanks-or-ok',
  'unclear',
] as const;
export type Topic = (typeof TOPICS)[number];

/**
 * Answer kinds and the words their values can take. `number` says that a plain number is an answer too, with its unit
 * in the comment. Every kind can also be answered `unsure` ("I do not know") or `no-answer` (nothing was said about it).
 */
export const ANSWER_KINDS = {
  /** `dark`: nothing else in the room has power either */
  'switch-on-sound': {
    values: ['short-beep', 'continuous-tone', 'repeating-beeps', 'silence', 'dark'],
    number: false,
  },
  /** L/min at the middle of the ball */
  ball: { values: ['bottom', 'below-1', 'top'], number: true },
  'water-level': { values: ['empty', 'below-min', 'between', 'above-max'], number: false },
  bubbling: { values: ['yes', 'no'], number: false },
  'air-at-prongs': { values: ['yes', 'no'], number: false },
  'yes-no': { values: ['yes', 'no'], number: false },
  tried: { values: ['yes', 'no', 'not-tried'], number: false },
  /** people using the unit at the same time, whole */
  people: { values: [], number: true },
  /** percent */
  saturation: { values: ['no-device'], number: true },
  severity: { values: ['0', '1', '2', '3'], number: false },
  /** hours; a clock time is counted back from `now` */
  hours: { values: [], number: true },
  /** L/min the guest was told to use */
  'flow-told': { values: [], number: true },
  worn: { values: ['cannula', 'mask', 'both'], number: false },
  /** which matter, of a menu of topics; said in words it is heard as the topic, not as an answer */
  matter: {
    values: [
      'no-power',
      'intermittent-alarm',
      'low-or-no-flow',
      'humidifier-empty',
      'symptom-mild',
      'delivery-or-pickup',
      'talk-to-a-person',
    ],
    number: false,
  },
  /** who is ill */
  'who-ill': { values: ['adult', 'child', 'pregnant', 'heart-or-lung'], number: false },
  /** what an outlet is next to: the only names of it that are kept of a room */
  'outlet-place': {
    values: [
      'window',
      'bed',
      'bed-left',
      'bed-right',
      'door',
      'bathroom',
      'desk',
      'table',
      'nightstand',
      'tv',
      'closet',
      'dresser',
      'kitchen',
      'sofa',
      'fireplace',
      'balcony',
    ],
    number: false,
  },
  /** has someone called the emergency number */
  called: { values: ['yes', 'no', 'cannot', 'all-well'], number: false },
} as const satisfies Record<string, { values: readonly string[]; number: boolean }>;
export type AnswerKind = keyof typeof ANSWER_KINDS;

export type Keyword = 'stop' | 'start' | 'help';
/** A wish about the conversation, or the news that the water bottle was filled, however long ago. */
export type Move = 'person' | 'back' | 'again' | 'refilled';

/** What a text is heard against. All of it is optional: a first text has no question before it. */
export interface Listening {
  /** The language the guest is known to write; otherwise it is guessed. */
  readonly lang?: Language | undefined;
  /** The answer kind of the step that stands. */
  readonly asked?: AnswerKind | undefined;
  /** Values of that kind in the order in which they were numbered for the guest: "2" is the second. */
  readonly choices?: readonly string[] | undefined;
  /** The instant of the text with its zone or offset (ISO 8601), for "since ten". */
  readonly now?: string | undefined;
}

/** What the desk made of one text. */
export interface Heard {
  readonly lang: Language;
  readonly danger: Danger;
  /** Sorted, without repeats. */
  readonly signs: readonly Sign[];
  /** null when a question stands and the text answers it */
  readonly topic: Topic | null;
  /** null when no question stands; otherwise a value or number of its kind, `unsure` or `no-answer` */
  readonly answer: string | number | null;
  /** The guest's words that decided, as written. */
  readonly why: readonly string[];
  readonly keyword: Keyword | null;
  readonly move: Move | null;
  /** A room or a unit's tag named in the text, for a guest whose rental is not known. */
  readonly place: { readonly room?: string; readonly tag?: string };
}

/** What is heard where nothing was said. */
export const NOTHING_HEARD: Omit<Heard, 'lang'> = {
  danger: 'none',
  signs: [],
  topic: null,
  answer: null,
  why: [],
  keyword: null,
  move: null,
  place: {},
};

/** Hearing as a value: what `loadHearing` returns. Pure: the same text and listening give the same result. */
export type Hear = (text: string, listening?: Listening) => Heard;
