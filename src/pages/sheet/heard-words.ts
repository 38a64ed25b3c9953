import type { Heard } from '../../words/heard.ts';

/** What the desk made of a text, as the records keep it; older entries may lack what was added since. */
export type KeptHeard = Partial<Heard>;

const spoken = (name: string): string => name.replaceAll('-', ' ');

/** What was heard, in words, a piece each; "nothing it knows" where nothing was. */
export function heardInWords(heard: KeptHeard): readonly string[] {
  const { danger = 'none', signs = [], topic = null, answer = null, keyword = null, move = null, place = {} } = heard;
  const kinds = signs.length === 0 ? '' : ` (${signs.map(spoken).join(', ')})`;
  const pieces = [
    danger === 'none' ? '' : `danger ${danger}${kinds}`,
    topic === null ? '' : `topic ${spoken(topic)}`,
    answer === null ? '' : `answer ${spoken(String(answer))}`,
    keyword === null ? '' : `keyword ${keyword}`,
    move === null ? '' : `wish: ${move}`,
    place.room === undefined ? '' : `room ${place.room}`,
    place.tag === undefined ? '' : `unit ${place.tag}`,
  ].filter((piece) => piece !== '');
  return pieces.length === 0 ? ['nothing it knows'] : pieces;
}

/** A stretch of a text, and whether it decided what was heard. */
export interface Stretch {
  readonly words: string;
  readonly decided: boolean;
}

/** A text cut where the words stand that decided. Words that are not in it as written are left out of the marking. */
export function withDeciding(text: string, why: readonly string[]): readonly Stretch[] {
  const lower = text.toLowerCase();
  const spans = why
    .map((words) => ({ from: lower.indexOf(words.toLowerCase()), length: words.length }))
    .filter(({ from, length }) => from >= 0 && length > 0)
    // Small letters of some alphabets are longer than their capitals: then places do not agree, and nothing is marked.
    .filter(() => lower.length === text.length)
    .toSorted((a, b) => a.from - b.from || b.length - a.length);
  const stretches: Stretch[] = [];
  let at = 0;
  for (const { from, length } of spans) {
    if (from < at) continue;
    if (from > at) stretches.push({ words: text.slice(at, from), decided: false });
    stretches.push({ words: text.slice(from, from + length), decided: true });
    at = from + length;
  }
  if (at < text.length) stretches.push({ words: text.slice(at), decided: false });
  return stretches;
}
