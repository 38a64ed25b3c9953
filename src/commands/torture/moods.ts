import type { Chance } from '../trials/chance.ts';
import type { ProviderAnswer } from '../trials/provider-side.ts';

/** What a phone company does with something it is asked to send. */
export interface Doing {
  /** Whether a phone gets it. */
  readonly taken: boolean;
  /** How long the answer takes. */
  readonly afterMs: number;
  readonly answer: (id: string) => ProviderAnswer;
}

export type Mood = (chance: Chance) => Doing;

const yes = (sid: string): ProviderAnswer => ({ status: 201, body: { sid, status: 'queued' } });
const no = (status: number, code: number) => (): ProviderAnswer => ({ status, body: { code, message: 'no', status } });

const TAKES: Doing = { taken: true, afterMs: 5, answer: yes };

/** Takes everything, at once. */
export const well: Mood = () => TAKES;

/** The desk gives up after ten seconds. */
const TOO_LATE_MS = 10_500;

/** Each thing that a company was ever seen to do, so that most is taken in the end. Code 30005 is final, the others are not. */
const ODD: readonly Doing[] = [
  TAKES,
  TAKES,
  TAKES,
  TAKES,
  { taken: true, afterMs: 2_500, answer: yes },
  { taken: true, afterMs: TOO_LATE_MS, answer: yes },
  { taken: true, afterMs: 5, answer: () => 'cut' },
  { taken: false, afterMs: 5, answer: () => 'cut' },
  { taken: true, afterMs: 5, answer: no(503, 0) },
  { taken: false, afterMs: 5, answer: no(503, 0) },
  { taken: false, afterMs: 5, answer: no(429, 20429) },
  { taken: false, afterMs: 5, answer: no(400, 30008) },
  { taken: false, afterMs: 5, answer: no(400, 30005) },
];

export const odd: Mood = (chance) => chance.pick(ODD) ?? TAKES;
