import { z } from 'zod';
import { ANSWER_KINDS, LANGUAGES, SIGNS, TOPICS } from '../words/heard.ts';
import type { AnswerKind } from '../words/heard.ts';
import { CONDITIONS } from './conditions.ts';
import { ENDINGS } from './ending.ts';
import { KEPT_NAMES } from './symptom-table.ts';

/**
 * The shape of the YAML files in `flows/`. A flow is a decision tree for one matter; a step is one screen of a phone.
 * Which names may stand where (steps, values of a kind) is looked at afterwards, in `names.ts`: a schema cannot see it.
 */

const name = z.string().regex(/^[a-z][a-z0-9-]*$/, 'a name: small letters, digits and dashes');
/** A step of this flow ("move-outlet") or of another ("alarm.which-beeps"). */
const stepName = z.string().regex(/^[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)?$/, 'a step, or flow.step');
/** Hours, minutes and seconds: a length that needs no calendar. */
const duration = z
  .string()
  .regex(/^(PT(\d+H)?(\d+M)?(\d+S)?|daybreak)$/, 'a duration such as PT3M or PT4H, or daybreak');

export const wordingSchema = z.strictObject(
  Object.fromEntries(LANGUAGES.map((lang) => [lang, z.string().min(1)])) as Record<
    (typeof LANGUAGES)[number],
    z.ZodString
  >,
);
export type Wording = z.infer<typeof wordingSchema>;

/** `when` may stand on every branch but the last. */
const branchSchema = z.strictObject({ when: z.enum(CONDITIONS).optional(), to: stepName });
/** Where an answer leads: a step, or the first branch whose condition holds. */
const targetSchema = z.union([stepName, z.array(branchSchema).min(1)]);
export type Target = z.infer<typeof targetSchema>;

const orderSchema = z.union([
  z.strictObject({ callout: z.enum(['danger', 'tonight', 'morning']) }),
  /**
   * works     the outlet that was tried works
   * switched  the one tried before gave no power, and another one works
   * dead      the outlet that was tried gives no power
   * placed    the guest has said what the one that works is next to
   */
  z.strictObject({ 'note-outlet': z.enum(['works', 'switched', 'dead', 'placed']) }),
  /** The water bottle was filled: the next reminder is counted from there. */
  z.strictObject({ 'note-refill': z.literal('filled') }),
  /** Someone at the property cannot call: whoever was offered the callout is told to call the dispatch centre. */
  z.strictObject({ 'tell-technician': z.enum(['cannot-call', 'nobody-called', 'all-well-said']) }),
]);
export type StepOrder = z.infer<typeof orderSchema>;

export const stepSchema = z.strictObject({
  tell: wordingSchema.optional(),
  ask: wordingSchema.optional(),
  /** What a voice says in place of both; without it the texts are made speakable. */
  spoken: wordingSchema.optional(),
  hears: z.enum(Object.keys(ANSWER_KINDS) as [AnswerKind, ...AnswerKind[]]).optional(),
  /** The values offered, in the order they are numbered; none are shown for a plain yes or no. */
  choices: z.array(z.string()).optional(),
  go: z.record(z.string(), targetSchema).optional(),
  /** The name under which the answer is kept, for the table of symptoms. */
  keep: z.enum(KEPT_NAMES).optional(),
  /** Where a worrying answer to this very question leads; the danger questions, unless this says the emergency. */
  worrying: targetSchema.optional(),
  /** Where to go on when danger was asked about here and denied; this step again, unless this says otherwise. */
  'resume-at': stepName.optional(),
  /** Everything that is no answer of `go` leads here: only the danger questions are as strict as that. */
  otherwise: stepName.optional(),
  /** Where to go instead when a fact that the words need is not known; a person, unless this says otherwise. */
  'if-unknown': stepName.optional(),
  /** What happens when the guest stays silent. */
  silent: z.strictObject({ after: duration, to: stepName }).optional(),
  do: z.array(orderSchema).optional(),
  end: z.enum(ENDINGS).optional(),
  /** Whose fault it turned out to be, for the list of what fails too often; in place of what the flow says. */
  'fault-of': z.enum(['unit', 'room', 'nobody']).optional(),
  /** The step says the emergency reply for the signs heard, in place of words of its own. */
  says: z.literal('emergency').optional(),
  /** Signs that this step stands for without anyone having named them. */
  signs: z.array(z.enum(SIGNS)).optional(),
  /** While this step is followed the guest is without oxygen for a short time. */
  'pauses-oxygen': z.literal(true).optional(),
});
export type Step = z.infer<typeof stepSchema>;

export const flowSchema = z.strictObject({
  flow: name,
  about: z.string().min(1),
  /** What a technician reads in a callout: two or three words. */
  matter: z.string().min(1).max(40),
  /** The most guest messages, the first among them, until an ending: 7 for faults, 14 for symptoms and set-ups. */
  'guest-messages': z.number().int().positive().max(14).default(7),
  /** Whose fault the matter is, unless a step says otherwise; none where it is left out. */
  'fault-of': z.enum(['unit', 'room']).optional(),
  /** The step that each topic opens. */
  'opens-on': z.partialRecord(z.enum(TOPICS), targetSchema).default({}),
  steps: z.record(name, stepSchema).refine((steps) => Object.keys(steps).length > 0, 'at least one step'),
});
export type FlowDocument = z.infer<typeof flowSchema>;

/** The labels of the choices, per answer kind and value, and the short sentences the desk says around the steps. */
export const phrasesSchema = z.strictObject({
  labels: z.record(z.string(), z.record(z.string(), wordingSchema)),
  /** What a technician reads for each sign of danger. */
  signs: z.record(z.enum(SIGNS), z.string().max(30)),
  around: z.strictObject({
    'not-understood': wordingSchema,
    'no-way-back': wordingSchema,
    'place-question': wordingSchema,
    'place-thanks': wordingSchema,
    'outlet-question': wordingSchema,
    thanks: wordingSchema,
    identity: wordingSchema,
    'too-many-texts': wordingSchema,
    'started-anew': wordingSchema,
    'desk-down': wordingSchema,
    'desk-down-worrying': wordingSchema,
  }),
  /** What a guest hears of the callout that is out for them. */
  callouts: z.strictObject({
    taken: wordingSchema,
    'passed-on': wordingSchema,
    'goes-to-taker': wordingSchema,
    untaken: wordingSchema,
    building: wordingSchema,
    'danger-check': wordingSchema,
    'danger-check-elsewhere': wordingSchema,
    'call-opening': wordingSchema,
    'call-menu': wordingSchema,
    'call-thanks': wordingSchema,
    'call-cannot': wordingSchema,
  }),
  /** What a guest is told without having written. */
  notices: z.strictObject({
    welcome: wordingSchema,
    collection: wordingSchema,
    refill: wordingSchema,
  }),
});
export type Phrases = z.infer<typeof phrasesSchema>;

const bySign = z.strictObject({
  signs: z.array(z.enum(SIGNS)).min(1),
  words: wordingSchema,
});

/** The emergency reply, sentence by sentence. The first rule of a list that names a sign heard is used. */
export const emergencySchema = z.strictObject({
  first: wordingSchema,
  'first-by-sign': z.array(bySign),
  where: wordingSchema,
  'where-unknown': wordingSchema,
  /** Things to do, at most three sentences: by sign, else these. */
  'do-by-sign': z.array(bySign),
  do: wordingSchema,
  /** What else to mind: by sign, else these. */
  'close-by-sign': z.array(bySign),
  close: wordingSchema,
});
export type EmergencyWords = z.infer<typeof emergencySchema>;

const spokenList = z.strictObject(
  Object.fromEntries(LANGUAGES.map((lang) => [lang, z.array(z.string().min(1)).min(1)])) as Record<
    (typeof LANGUAGES)[number],
    z.ZodArray<z.ZodString>
  >,
);
export type SpokenList = z.infer<typeof spokenList>;

const VOICE_SAYS = [
  'greeting',
  'this-language',
  'language-changed',
  'go-on',
  'moved-on',
  'number-hidden',
  'which-unit',
  'unit-found',
  'unit-not-found',
  'not-heard',
  'no-such-key',
  'i-heard',
  'take-your-time',
  'silence-brings-a-person',
  'next',
  'next-or-text',
  'texted',
  'anything-else',
  'goodbye',
  'taken-already',
  'ringing',
  'ringing-name',
  'still-ringing',
  'coming-on-the-line',
  'nobody',
  'record',
  'recorded',
  'not-recorded',
  'recorded-no-number',
  'not-recorded-no-number',
  'talked',
  'cut-off',
] as const;
export type VoicePhrase = (typeof VOICE_SAYS)[number];

/** What a call needs of words besides the steps. */
export const voiceSchema = z.strictObject({
  says: z.record(z.enum(VOICE_SAYS), wordingSchema),
  danger: z.strictObject({
    first: wordingSchema,
    'get-out': wordingSchema,
    where: wordingSchema,
    'where-unknown': wordingSchema,
    menu: wordingSchema,
    'hang-up': wordingSchema,
    hold: wordingSchema,
  }),
  /** How an answer of a kind is given by voice and by key; a kind that is not here names its choices. */
  answers: z.partialRecord(z.enum(Object.keys(ANSWER_KINDS) as [AnswerKind, ...AnswerKind[]]), wordingSchema),
  choices: z.strictObject({ first: wordingSchema, more: wordingSchema }),
  words: z.strictObject({ next: spokenList, person: spokenList, text: spokenList }),
  hints: z.record(z.string(), spokenList).refine((hints) => hints['always'] !== undefined, 'hints need "always"'),
});
export type Voice = z.infer<typeof voiceSchema>;

const limitSchema = z.strictObject({
  value: z.number(),
  unit: z.string(),
  mark: z.enum(['published', 'trade', 'own caution']),
  source: z.string().min(1),
});

/** Limits that the refill reminder counts with. */
const LIMITS_THE_DESK_NAMES = [
  'refill-every-h',
  'refill-latest-h',
  'refill-room-c',
  'refill-low-oz',
  'refill-notice-h',
] as const;

/** Numbers that sentences may name, and who of the clinicians has looked at them. */
export const limitsSchema = z.strictObject({
  reviewed: z.strictObject({ by: z.string().nullable(), on: z.string().nullable() }),
  limits: z.record(name, limitSchema).superRefine((limits, context) => {
    for (const needed of LIMITS_THE_DESK_NAMES.filter((each) => limits[each] === undefined)) {
      context.addIssue(`the desk itself counts with the limit "${needed}"; add it`);
    }
  }),
});
export type Limits = z.infer<typeof limitsSchema>;
