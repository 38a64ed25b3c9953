/** FNV-1a, 32 bit: one more character. */
export function hashOn(hash: number, code: number): number {
  return Math.imul(hash ^ code, 0x01000193);
}

/** FNV-1a, 32 bit, of a text's UTF-16 code units. */
export function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) hash = hashOn(hash, text.charCodeAt(at));
  return hash;
}

/** Two hashes in their order made one, after the finishing steps of MurmurHash3. */
export function mixed(one: number, other: number): number {
  let hash = Math.imul(one ^ 0x9e3779b9, 0x85ebca6b) ^ other;
  hash = Math.imul(hash ^ (hash >>> 15), 0xc2b2ae35);
  return hash ^ (hash >>> 13);
}
