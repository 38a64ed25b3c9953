import type { Found, Reading } from './reading.ts';
import { FULL_STOP, PAUSE } from './tokens.ts';

/** What the words around a find make of it. */
export interface Standing {
  readonly denied: boolean;
  /** earlier, over, supposed or feared: not said to be so now */
  readonly distant: boolean;
  readonly over: boolean;
  readonly mild: boolean;
}

/** How many words a trigger reaches, unless something ends its reach before. */
const REACH = { deny: 7, past: 7, over: 12, supposed: 9, mild: 3 } as const;
/** No trigger reaches farther than this. */
const FARTHEST = 12;
const PLAIN: Standing = { denied: false, distant: false, over: false, mild: false };

/**
 * Judges a find by the triggers around it, after NegEx and ConText (Chapman 2001, Harkema 2009): a trigger reaches over
 * a few words of its own sentence, unless a word such as "but" ends its reach; what only looks like a trigger is none.
 */
export function standingOf(find: { start: number; end: number }, reading: Reading): Standing {
  const { contexts } = reading;
  if (contexts.length === 0) return PLAIN;
  const near = contexts.filter((one) => one.end >= find.start - FARTHEST && one.start <= find.end + FARTHEST);
  const barriers = near.filter(({ name }) => name === 'ends');
  const feints = near.filter(({ name }) => name === 'no-denial');
  let [denied, past, over, supposed, mild] = [false, false, false, false, false];
  for (const trigger of near) {
    if (isPartOf(trigger, find, reading) && trigger.name !== 'past') continue;
    const before = trigger.start < find.start;
    const apart = before ? Math.max(0, find.start - trigger.end) : trigger.start - find.end;
    const [from, to] = before ? [Math.min(trigger.end, find.start), find.start] : [find.end, trigger.start];
    const open = !interrupted(from, to, barriers, reading);
    switch (trigger.name) {
      case 'deny':
        if (before && open && apart <= REACH.deny && !isFeint(trigger, feints) && !isAnswer(trigger, reading))
          denied = true;
        break;
      case 'denied-after':
        if (!before && apart === 0 && standsAlone(trigger, reading)) denied = true;
        break;
      case 'past':
        if (open && apart <= REACH.past) past = true;
        break;
      case 'over':
        if (open && apart <= REACH.over) over = true;
        break;
      case 'supposed':
        if (before && open && apart <= REACH.supposed && !isAnswer(trigger, reading)) supposed = true;
        break;
      case 'mild':
        if (open && apart <= (before ? REACH.mild : 1)) mild = true;
        break;
      default:
    }
  }
  return { denied, distant: past || over || supposed, over, mild };
}

/** How many words a film, a game or an old story colours after it is named. */
const FICTION_REACH = 16;

/** True where words that only sound like danger cover a find, or it is told of a film, a game, an old story. */
export function isFigurative(find: { start: number; end: number }, reading: Reading): boolean {
  return reading.contexts.some((other) => {
    if (other.name === 'figurative') return overlaps(other, find) && !holdsFullStop(other, reading);
    if (other.name !== 'fiction') return false;
    const apart = other.start <= find.start ? find.start - other.end : (other.start - find.end) * 2;
    return apart <= FICTION_REACH;
  });
}

/** Words on both sides of a full stop are no figure of speech: "nice machine. he is choking". */
function holdsFullStop(span: { start: number; end: number }, reading: Reading): boolean {
  return reading.tokens.slice(span.start + 1, span.end).some(({ before }) => before === FULL_STOP);
}

export function overlaps(one: { start: number; end: number }, other: { start: number; end: number }): boolean {
  return one.start < other.end && other.start < one.end;
}

function interrupted(from: number, to: number, barriers: readonly Found[], reading: Reading): boolean {
  for (let at = from; at <= to; at += 1) {
    // The first token after a trigger or find may open a new sentence; so may the find itself.
    if (reading.tokens[at]?.before === FULL_STOP) return true;
  }
  return barriers.some((barrier) => barrier.start >= from && barrier.end <= to);
}

function isFeint(trigger: Found, feints: readonly Found[]): boolean {
  return feints.some((feint) => feint.start <= trigger.start && feint.end >= trigger.end);
}

/** A trigger whose denying word is the find's own ("is | not getting any air") is part of it; "nobody is | is ill" is not. */
function isPartOf(trigger: Found, find: { start: number; end: number }, reading: Reading): boolean {
  if (!overlaps(trigger, find)) return false;
  if (trigger.start >= find.start) return true;
  const shared = reading.tokens.slice(find.start, trigger.end);
  return shared.some(({ word }) => reading.lexicon.denials.has(word));
}

/** "Chest pain? None." */
function standsAlone(trigger: Found, reading: Reading): boolean {
  const [first, next] = [reading.tokens[trigger.start], reading.tokens[trigger.end]];
  return first !== undefined && first.before >= PAUSE && (next === undefined || next.before >= PAUSE);
}

/** "No, he has chest pain": a "no" before a pause answers, and denies nothing. */
function isAnswer(trigger: Found, reading: Reading): boolean {
  const next = reading.tokens[trigger.end];
  return trigger.end - trigger.start === 1 && next !== undefined && next.before >= PAUSE;
}
