import type { NumberFound } from './numbers.ts';
import type { Found, Reading } from './reading.ts';
import { PAUSE } from './tokens.ts';

/** Words found under `answers: any:` that are no answer themselves, by what they do to answers. */
export function aids(name: string, reading: Reading): readonly Found[] {
  return reading.aids.get(name) ?? [];
}

/** Words that take back what was said before them: "no wait", "i mean", "hold on". */
export function correctionsIn(reading: Reading): Found[] {
  return [...(reading.sets.get('correction') ?? []), ...aids('correction', reading)];
}

/**
 * How often something was taken back before this was said. Of "wait no" the "no" is what holds afterwards, so words
 * that end a correction come after it.
 */
export function takenBackBefore(said: { start: number; end: number }, corrections: readonly Found[]): number {
  const places = corrections
    .filter((one) => one.end <= said.start || (one.start < said.start && said.end === one.end))
    .map(({ end }) => end);
  return new Set(places).size;
}

/** A bare "no" and a bare "sorry" take a number back only where a number stands on both sides: "3, no, 2". */
export function takenBackBetween(numbers: readonly NumberFound[], reading: Reading): number[] {
  const marks = aids('slip', reading);
  return numbers.slice(1).flatMap((second, index) => {
    const first = numbers[index];
    if (first === undefined) return [];
    const between = marks.some(
      ({ start, end }) =>
        start >= first.end &&
        end <= second.start &&
        (start === first.end || isPaused(start, reading)) &&
        (end === second.start || isPaused(end, reading)),
    );
    return between ? [second.start] : [];
  });
}

function isPaused(at: number, reading: Reading): boolean {
  return (reading.tokens[at]?.before ?? PAUSE) >= PAUSE;
}

/** True for words that answer nothing: the "ok" of "ok but how". */
export function isAside(said: { start: number; end: number }, reading: Reading): boolean {
  return aids('aside', reading).some((one) => one.start < said.end && said.start < one.end);
}
