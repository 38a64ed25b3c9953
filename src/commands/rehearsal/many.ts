import type { Facts } from '../../flow/facts.ts';
import { flowOf } from '../../flow/book.ts';
import { PROFILES } from '../../flow/profiles.ts';
import { listeningAt, turn, turnOnSilence } from '../../flow/turn.ts';
import type { Flows, Turn } from '../../flow/turn.ts';
import { walk } from '../../flow/walk.ts';
import { LANGUAGES } from '../../words/heard.ts';
import type { Hear, Language } from '../../words/heard.ts';
import { FAULTS } from './faults.ts';
import type { Fault } from './faults.ts';
import { MANNERS, sayTo } from './guest.ts';
import type { Chance } from '../trials/chance.ts';
import type { Asked, Guest, Manner } from './guest.ts';
import type { Phrasebook } from './labelled.ts';

/** What many made-up guests are played against, and what they draw on. Pure: no records, no clock. */
export interface Stage {
  readonly hear: Hear;
  readonly flows: Flows;
  readonly books: Readonly<Record<Language, Phrasebook>>;
  readonly chance: Chance;
}

export interface Outcome {
  readonly fault: string;
  readonly how: 'settled' | 'handed-over' | 'wrong-turn' | 'false-emergency' | 'left';
  readonly guestMessages: number;
}

/** More texts than any flow may take: who is not done by then has left. */
const PATIENCE = 20;

const FACTS: Facts = {
  ...(PROFILES['a guest of whom all is known'] as Facts),
  setting: { fromLpm: 2, toLpm: 2 },
  settingForOne: { fromLpm: 2, toLpm: 2 },
};

function asked(flows: Flows, step: string): Asked {
  const { asked: kind, choices } = listeningAt(flows, step);
  return { step, kind: kind ?? null, choices: choices ?? [] };
}

function hearAndTurn(stage: Stage, lang: Language, before: Turn | null, text: string): Turn {
  const { flows, hear } = stage;
  const listening = before === null ? { lang } : { lang, ...listeningAt(flows, before.step) };
  const input = { state: before?.state ?? null, lang, facts: FACTS, current: flows.book };
  return turn(flows, input, hear(text, listening));
}

function judged(fault: Fault, last: Turn, path: readonly string[]): Outcome['how'] {
  if (last.inDanger || last.ending === 'emergency') return 'false-emergency';
  const atHome = path.some((step) => fault.home.includes(flowOf(step)));
  if (last.ending === null) return 'left';
  if (!atHome && flowOf(last.step) !== 'person') return 'wrong-turn';
  return last.ending === 'settled' || last.ending === 'information' ? 'settled' : 'handed-over';
}

/** One made-up guest with a fault, from the first text to an ending. */
export function playGuest(stage: Stage, guest: Guest): Outcome {
  const { flows, chance } = stage;
  const book = stage.books[guest.lang];
  const topic = chance.pick(guest.fault.topics) ?? '';
  let last = hearAndTurn(stage, guest.lang, null, chance.pick(book.openings(topic)) ?? topic);
  let guestMessages = 1;
  const path = [last.step];
  while (last.ending === null && guestMessages < PATIENCE) {
    const words = sayTo(asked(flows, last.step), guest, book, chance);
    if (words === null) {
      const silent = flows.steps.get(last.step)?.silent;
      if (silent === undefined) break;
      last = turnOnSilence(flows, { state: last.state, lang: guest.lang, facts: FACTS, current: flows.book });
    } else {
      last = hearAndTurn(stage, guest.lang, last, words);
      guestMessages += 1;
    }
    path.push(last.step);
  }
  return { fault: guest.fault.name, how: judged(guest.fault, last, path), guestMessages };
}

/** So many guests, with every fault, manner and language in turn and the rest by chance. */
export function playMany(stage: Stage, count: number): readonly Outcome[] {
  return Array.from({ length: count }, (_, index) => {
    const fault = FAULTS[index % FAULTS.length] as Fault;
    const manner = MANNERS[Math.floor(index / FAULTS.length) % MANNERS.length] as Manner;
    const lang = LANGUAGES[stage.chance.below(LANGUAGES.length)] as Language;
    return playGuest(stage, { fault, manner, lang });
  });
}

export interface DangerPlayed {
  readonly step: string;
  readonly text: string;
  /** `told`: the emergency reply was given before, and the thread stays with danger. */
  readonly how: 'emergency' | 'asked' | 'told' | 'missed';
}

/** A danger text at every state that can be reached, each language, so many texts at each. */
export function playDangers(stage: Stage, textsPerState: number): readonly DangerPlayed[] {
  const { flows, chance } = stage;
  const arrivals = new Map<string, Turn>();
  for (const { turn: arrived } of walk(flows, FACTS, 'en')) {
    if (!arrivals.has(arrived.step)) arrivals.set(arrived.step, arrived);
  }
  const everyState: readonly (Turn | null)[] = [null, ...arrivals.values()];
  return everyState.flatMap((before) =>
    LANGUAGES.flatMap((lang) =>
      Array.from({ length: textsPerState }, (): DangerPlayed => {
        const text = chance.pick(stage.books[lang].dangers) ?? '';
        const after = hearAndTurn(stage, lang, before, text);
        const questioned = flows.steps.get(after.step)?.otherwise !== undefined;
        const rang = after.orders.some((order) => order.order === 'callout' && order.urgency === 'danger');
        const told = before?.inDanger === true && after.inDanger;
        const how = rang ? 'emergency' : questioned ? 'asked' : told ? 'told' : 'missed';
        return { step: before?.step ?? '(first text)', text, how };
      }),
    ),
  );
}
