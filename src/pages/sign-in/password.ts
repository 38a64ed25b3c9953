import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { promisify } from 'node:util';

const derive = promisify<string, Buffer, number, { N: number; r: number; p: number; maxmem: number }, Buffer>(scrypt);

/** OWASP's first choice for scrypt (Password Storage Cheat Sheet): 128 MiB and some tenths of a second a guess. */
const COST = { N: 2 ** 17, r: 8, p: 1 } as const;
const MEMORY = 256 * 1024 * 1024;
const KEY_BYTES = 32;

/** NIST SP 800-63B asks for at least 15 characters where a password stands alone, and for no rules of composition. */
export const SHORTEST_PASSWORD = 15;
/** Longer words cost nothing but time. */
export const LONGEST_PASSWORD = 200;

/** Guesses that wait at most; more at once are no people. */
const MOST_WAITING = 4;
let waiting = 0;
let last: Promise<unknown> = Promise.resolve();

/** Too many passwords are being looked at: nobody gets the machine's memory and time away from the guests. */
export class TooManyAtOnce extends Error {
  override readonly name = 'TooManyAtOnce';
}

/** One derivation after another: each takes 128 MiB. @throws TooManyAtOnce */
async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (waiting >= MOST_WAITING) throw new TooManyAtOnce();
  waiting += 1;
  const mine = last.then(work);
  last = mine.catch(() => {});
  try {
    return await mine;
  } finally {
    waiting -= 1;
  }
}

/** The key of a password. Letters that look alike count as the same. */
function keyOf(password: string, salt: Buffer, cost: { N: number; r: number; p: number }): Promise<Buffer> {
  return inTurn(() => derive(password.normalize('NFKC'), salt, KEY_BYTES, { ...cost, maxmem: MEMORY }));
}

/** The hash to keep, with its salt and what it cost: "scrypt$131072$8$1$salt$key". */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await keyOf(password, salt, COST);
  return ['scrypt', COST.N, COST.r, COST.p, salt.toString('base64url'), key.toString('base64url')].join('$');
}

/** Whether these words are the password of the hash. A hash that cannot be read fits nothing. */
export async function isPassword(password: string, hash: string): Promise<boolean> {
  const [kind, n, r, p, salt = '', key = ''] = hash.split('$');
  const kept = Buffer.from(key, 'base64url');
  if (kind !== 'scrypt' || kept.length !== KEY_BYTES) return false;
  const given = await keyOf(password, Buffer.from(salt, 'base64url'), { N: Number(n), r: Number(r), p: Number(p) });
  return timingSafeEqual(kept, given);
}

/** A hash of no password at all: an account that does not exist must take as long to refuse as one that does. */
export const NO_PASSWORD = `scrypt$${COST.N}$${COST.r}$${COST.p}$${'A'.repeat(22)}$${'A'.repeat(43)}`;
