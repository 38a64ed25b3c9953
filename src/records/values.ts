/** Stands in a prepared query for a value that is given when it is run. */
export class Blank {
  readonly name: string;

  constructor(name: string) {
    this.name = name;
  }
}

/**
 * A value as both kinds of records can keep it: yes and no become 1 and 0; in text, U+0000 (which Postgres refuses) and
 * half of a surrogate pair (which UTF-8 cannot write) become U+FFFD, the replacement character. All other text, control
 * characters and right-to-left marks included, comes back as it went in.
 * @throws TypeError for undefined and for objects, which would otherwise be stored as something else in silence.
 */
export function keepable(value: unknown): string | number | bigint | null {
  if (typeof value === 'string') return value.toWellFormed().replaceAll('\0', '\uFFFD');
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (value === null || typeof value === 'number' || typeof value === 'bigint') return value;
  throw new TypeError(
    `Records keep text, numbers, yes or no, and null; what came is ${value === undefined ? 'undefined' : 'an object'}. ` +
      'Give null for what is missing and JSON text for what has parts.',
  );
}
