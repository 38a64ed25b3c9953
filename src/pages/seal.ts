import { createHmac, timingSafeEqual } from 'node:crypto';

/** Whose rows are named in addresses. */
export type Sealed = 'conversation' | 'entry' | 'callout' | 'unit' | 'rental' | 'person' | 'property' | 'model';

/** 72 bits: far more than can be tried over a network. */
const SEAL_CHARACTERS = 12;

function equal(a: string, b: string): boolean {
  const [left, right] = [Buffer.from(a), Buffer.from(b)];
  return left.length === right.length && timingSafeEqual(left, right);
}

/**
 * Numbers in addresses, and tokens in forms, sealed with the outfit's secret: "12-Zk3…" cannot be counted up to
 * "13-…". A seal needs no column, so rows of years ago have theirs too.
 */
export class Seal {
  readonly #secret: string;

  constructor(secret: string) {
    this.#secret = secret;
  }

  #mac(words: string): string {
    return createHmac('sha256', this.#secret).update(words).digest('base64url');
  }

  /** The number of a row as an address may show it. */
  id(kind: Sealed, id: number): string {
    return `${id}-${this.#mac(`${kind} ${id}`).slice(0, SEAL_CHARACTERS)}`;
  }

  /** The number in an address; null when it was not sealed here for that kind of row. */
  open(kind: Sealed, sealed: string): number | null {
    const id = Number(/^(\d{1,9})-/.exec(sealed)?.[1] ?? Number.NaN);
    return Number.isInteger(id) && equal(sealed, this.id(kind, id)) ? id : null;
  }

  /** What a browser keeps once a person has signed in with it, and shows the next time. It opens nothing by itself. */
  browser(personId: number, name: string): string {
    return `${personId}.${name}.${this.#mac(`browser ${personId} ${name}`)}`;
  }

  /** The name of a browser with which that person has signed in before; null when this is none. */
  openBrowser(personId: number, shown: string): string | null {
    const [, name = ''] = shown.split('.');
    return name !== '' && equal(shown, this.browser(personId, name)) ? name : null;
  }

  /** What a form must send back to be taken: bound to a session, a cookie or a link. */
  formToken(boundTo: string): string {
    return this.#mac(`form ${boundTo}`).slice(0, 32);
  }

  isFormToken(token: string, boundTo: string): boolean {
    return equal(token, this.formToken(boundTo));
  }
}
