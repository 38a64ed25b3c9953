/** Seven digits and more, however they are spaced: shorter ones are rooms, hours and settings. */
const PHONE = /[+(]*\d(?:[\s().-]*\d){6,}/g;
const MAIL = /[^\s@]+@[^\s@]+\.[^\s@]+/g;
const WORD = /\p{Letter}[\p{Letter}\p{Mark}]*/gu;
/** Parts of names that are words of the language first. */
const PARTICLES = new Set(['del', 'der', 'den', 'las', 'los', 'van', 'von', 'the', 'and']);
/** Shorter parts ("de", "la", initials) name nobody, and would tear holes into Spanish. */
const SHORTEST_PART = 3;

/** The parts of names that are taken out of texts, in small letters. */
export function partsOfNames(names: readonly string[]): ReadonlySet<string> {
  const parts = names.flatMap((name) => name.toLowerCase().match(WORD) ?? []);
  return new Set(parts.filter((part) => part.length >= SHORTEST_PART && !PARTICLES.has(part)));
}

/**
 * A text without phone numbers, mail addresses and the given parts of names; each leaves a word in its place. A name that
 * nobody has on record cannot be known.
 */
export function withoutNames(text: string, parts: ReadonlySet<string>): string {
  return text
    .replaceAll(MAIL, '[address]')
    .replaceAll(PHONE, '[number]')
    .replaceAll(WORD, (word) => (parts.has(word.toLowerCase()) ? '[name]' : word));
}
