/** What is really wrong at a made-up guest's, which the guest does not know, and what they would see and hear because of it. */
export interface Fault {
  readonly name: string;
  /** What such a guest may begin with. */
  readonly topics: readonly string[];
  /** What is true at a step, or for any question of an answer kind. A step beats its kind. */
  readonly truth: Readonly<Record<string, string | number>>;
  /** Flows in which it is right for the conversation to end. */
  readonly home: readonly string[];
}

/** What is true of a unit at which nothing is wrong but the fault. */
const USUAL: Readonly<Record<string, string | number>> = {
  'switch-on-sound': 'short-beep',
  ball: 2,
  'water-level': 'between',
  bubbling: 'yes',
  'air-at-prongs': 'yes',
  tried: 'yes',
  'yes-no': 'yes',
  people: 1,
  worn: 'cannula',
  'symptoms.questions': 'no',
  'set-up.questions': 'no',
  'danger.questions': 'no',
  'comfort.hot-or-burning': 'no',
  'comfort.burning': 'no',
};

export const FAULTS: readonly Fault[] = [
  {
    name: 'switched outlet',
    topics: ['no-power', 'continuous-alarm'],
    truth: { 'switch-on-sound': 'continuous-tone', 'power.other-wall': 'short-beep' },
    home: ['power'],
  },
  {
    name: 'unit dead',
    topics: ['no-power'],
    truth: { 'switch-on-sound': 'silence', 'power.lamp': 'yes' },
    home: ['power'],
  },
  {
    name: 'set too high',
    topics: ['overflow-alarm', 'intermittent-alarm'],
    truth: { 'switch-on-sound': 'repeating-beeps', ball: 'top', 'alarm.turn-down': 'yes' },
    home: ['alarm'],
  },
  {
    name: 'vents covered',
    topics: ['intermittent-alarm'],
    truth: { 'switch-on-sound': 'repeating-beeps', ball: 2, 'alarm.tube-and-vents': 'yes' },
    home: ['alarm'],
  },
  {
    name: 'fault inside',
    topics: ['intermittent-alarm'],
    truth: { 'switch-on-sound': 'repeating-beeps', ball: 2, tried: 'no' },
    home: ['alarm'],
  },
  {
    name: 'tube off or kinked',
    topics: ['low-or-no-flow', 'tubing-kink-or-disconnected'],
    truth: { 'air-at-prongs': 'yes', ball: 2 },
    home: ['air'],
  },
  {
    name: 'no flow at all',
    topics: ['low-or-no-flow'],
    truth: { 'air-at-prongs': 'no', bubbling: 'no', ball: 'bottom' },
    home: ['air'],
  },
  { name: 'bottle empty', topics: ['humidifier-empty'], truth: { 'water-level': 'empty' }, home: ['humidifier'] },
  {
    name: 'bottle overfull',
    topics: ['humidifier-overfull-or-water-in-tube'],
    truth: { 'water-level': 'above-max' },
    home: ['humidifier'],
  },
  {
    name: 'bottle not bubbling',
    topics: ['humidifier-not-bubbling'],
    truth: { 'water-level': 'between' },
    home: ['humidifier'],
  },
  {
    name: 'crossed thread',
    topics: ['cross-thread', 'humidifier-leak-or-hiss'],
    truth: { 'humidifier.whistle': 'no' },
    home: ['humidifier'],
  },
  { name: 'prongs sit badly', topics: ['cannula-fit'], truth: {}, home: ['tubing'] },
  { name: 'asks for the setting', topics: ['flow-question'], truth: {}, home: ['how-much'] },
  { name: 'noise or warmth', topics: ['noise-or-heat', 'smell-nonspecific'], truth: {}, home: ['comfort'] },
  { name: 'piece missing', topics: ['accessories-missing'], truth: { 'yes-no': 'no' }, home: ['visits', 'tubing'] },
  {
    name: 'delivery or return',
    topics: ['delivery-or-pickup', 'extend-or-return'],
    truth: { 'yes-no': 'no' },
    home: ['visits', 'person'],
  },
  { name: 'wants a person', topics: ['talk-to-a-person'], truth: {}, home: ['person'] },
];

/** What this guest would see at a step, if they looked. Null where there is nothing to see: they do not know. */
export function truthAt(fault: Fault, step: string, kind: string): string | number | null {
  return fault.truth[step] ?? USUAL[step] ?? fault.truth[kind] ?? USUAL[kind] ?? null;
}
