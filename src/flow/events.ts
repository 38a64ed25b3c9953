import type { Heard, Sign, Topic } from '../words/heard.ts';
import type { Facts } from './facts.ts';

/**
 * What can happen to the machine. One text is one event; what the text says beyond its event travels beside it.
 * Types: `danger:now`, `danger:ask`, `person`, `back`, `again`, `answer:VALUE`, `answer:number`, `unsure`,
 * `topic:TOPIC`, `refilled`, `ok`, `greet`, `miss`; and what is no
 * text: `silent` when nothing was heard in the time a step allows, `visited` some minutes after a technician was there,
 * `unknown` when a fact that the step's words need is not known any more.
 */
export interface DeskEvent {
  readonly type: string;
  readonly facts: Facts;
  readonly signs: readonly Sign[];
  readonly topic: Topic | null;
  /** What was answered: a value of the kind, or a number in its unit. */
  readonly answer: string | number | null;
}

/** The event types that a text can be, beside the answers and the topics. */
export const PLAIN_EVENT_TYPES = [
  'danger:now',
  'danger:ask',
  'person',
  'back',
  'again',
  'refilled',
  'answer:number',
  'unsure',
  'ok',
  'greet',
  'miss',
] as const;

/** What the machine must know of the place it stands at, to tell which event a text is. */
export interface Standing {
  readonly fresh: boolean;
  readonly ended: boolean;
  /** The question that stands is whether the emergency number was called. */
  readonly asksForHelp: boolean;
  /** Whether the topic leads on from here: it opens a step that this matter has not been through yet. */
  readonly opens: (topic: Topic) => boolean;
}

/** News of a filled bottle, and of nothing else, where no question waits for an answer. */
function isNewsOfWater({ move, topic }: Heard, { fresh, ended }: Standing): boolean {
  if (move !== 'refilled' || !(fresh || ended)) return false;
  return topic === null || ['unclear', 'thanks-or-ok', 'humidifier-empty'].includes(topic);
}

/**
 * "Yes, they are coming, she is still dizzy": where help was asked about, a yes is heard as one, though worry is in it. It
 * leads to those who are with the dispatcher already, who are asked for what changes.
 */
function saysHelpWasCalled(heard: Heard, standing: Standing): boolean {
  return standing.asksForHelp && heard.danger === 'ask' && heard.answer === 'yes';
}

function eventType(heard: Heard, standing: Standing): string {
  if (saysHelpWasCalled(heard, standing)) return 'answer:yes';
  if (heard.danger !== 'none') return `danger:${heard.danger}`;
  if (heard.move !== null && heard.move !== 'refilled')
    return standing.fresh && heard.move !== 'person' ? 'greet' : heard.move;
  if (typeof heard.answer === 'number') return 'answer:number';
  if (heard.answer === 'unsure') return 'unsure';
  if (heard.answer !== null && heard.answer !== 'no-answer') return `answer:${heard.answer}`;
  if (heard.topic === 'talk-to-a-person') return 'person';
  if (isNewsOfWater(heard, standing)) return 'refilled';
  if (heard.topic === 'thanks-or-ok') return standing.fresh ? 'greet' : 'ok';
  if (heard.topic !== null && heard.topic !== 'unclear' && standing.opens(heard.topic)) return `topic:${heard.topic}`;
  return standing.fresh ? 'greet' : 'miss';
}

/** The one event that a text is. Danger comes before everything, a person on request before any answer. */
export function eventOf(heard: Heard, standing: Standing, facts: Facts): DeskEvent {
  return {
    type: eventType(heard, standing),
    facts,
    signs: heard.signs,
    topic: heard.topic,
    answer: heard.answer,
  };
}

/** Nothing was heard in the time that the step allows, or a technician has been there. */
export function withoutText(type: 'silent' | 'visited', facts: Facts): DeskEvent {
  return { type, facts, signs: [], topic: null, answer: null };
}
