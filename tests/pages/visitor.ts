import { expect } from 'vitest';
import { newPasswordLink } from '../../src/pages/sign-in/tokens.ts';
import { SIGNED_UNDER } from '../desk/signed-posts.ts';
import type { NightDesk } from '../desk/night-desk.ts';
import { BRAM, ODALYS } from '../desk/night-desk.ts';

export interface Shown {
  readonly status: number;
  readonly headers: Headers;
  readonly html: string;
  /** What a reader sees: the page without its tags. */
  readonly words: string;
  /** Where the visitor ended up. */
  readonly path: string;
}

interface Form {
  readonly action: string;
  readonly html: string;
  readonly fields: URLSearchParams;
}

const unescaped = (text: string): string =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');

function wordsOf(html: string): string {
  const shown = html
    .replaceAll(/<title[^]*?<\/title>/g, '')
    .replaceAll(/<\/?(?:a|b|bdi|mark|small|span|strong)\b[^>]*>/g, '');
  return unescaped(shown.replaceAll(/<[^>]*>/g, ' '))
    .replaceAll(/\s+/g, ' ')
    .trim();
}

/** The forms of a page, with the fields that are hidden or chosen. */
function formsOf({ html, path }: Pick<Shown, 'html' | 'path'>): readonly Form[] {
  return [...html.matchAll(/<form([^>]*)>([^]*?)<\/form>/g)].map(([, head = '', inside = '']) => {
    const fields = new URLSearchParams();
    for (const [, tag = ''] of inside.matchAll(/<input([^>]*)>/g)) {
      const [, name] = /name="([^"]*)"/.exec(tag) ?? [];
      const [, value = /type="checkbox"/.test(tag) ? 'on' : ''] = /value="([^"]*)"/.exec(tag) ?? [];
      const chosen = !/type="checkbox"/.test(tag) || /\schecked/.test(tag);
      if (name !== undefined && chosen) fields.append(name, unescaped(value));
    }
    for (const [, name = '', choices = ''] of inside.matchAll(/<select[^>]*name="([^"]*)"[^>]*>([^]*?)<\/select>/g)) {
      const [, value] =
        /<option value="([^"]*)" selected/.exec(choices) ?? /<option value="([^"]*)"/.exec(choices) ?? [];
      if (value !== undefined) fields.set(name, unescaped(value));
    }
    return { action: unescaped(/action="([^"]*)"/.exec(head)?.[1] ?? path), html: inside, fields };
  });
}

/** Someone with a browser without scripts: keeps cookies, follows where it is led, sends forms as they stand on a page. */
export class Visitor {
  readonly #here: string;
  readonly #cookies = new Map<string, string>();

  constructor({ here }: Pick<NightDesk, 'here'>) {
    this.#here = here;
  }

  async #ask(path: string, init: RequestInit): Promise<Shown> {
    const headers = new Headers(init.headers);
    // Some tests let hours pass between two requests: nobody waits on a line that has been closed.
    headers.set('connection', 'close');
    if (!headers.has('cookie')) headers.set('cookie', [...this.#cookies].map(([k, v]) => `${k}=${v}`).join('; '));
    const response = await fetch(this.#here + path, { ...init, headers, redirect: 'manual' });
    for (const set of response.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(set) ?? [];
      if (value === '') this.#cookies.delete(name);
      else this.#cookies.set(name, value);
    }
    const html = await response.text();
    return { status: response.status, headers: response.headers, html, words: wordsOf(html), path };
  }

  /** The value of a cookie, for those who would steal it. */
  get cookies(): ReadonlyMap<string, string> {
    return this.#cookies;
  }

  /** What the address itself answers, redirects not followed. */
  once(path: string, init: RequestInit = {}): Promise<Shown> {
    return this.#ask(path, init);
  }

  async #follow(shown: Shown): Promise<Shown> {
    const to = shown.headers.get('location');
    return shown.status === 303 && to !== null ? this.get(to) : shown;
  }

  async get(path: string): Promise<Shown> {
    return this.#follow(await this.#ask(path, {}));
  }

  /** Sends the page's form whose inside says this, with these fields filled in, and goes where it leads. */
  async send(page: Shown, saying: string | RegExp, filled: Record<string, string> = {}): Promise<Shown> {
    const form =
      formsOf(page).find(({ html, action }) => new RegExp(saying).test(html) || action === saying) ??
      expect.fail(`no form says ${String(saying)} on ${page.path}: ${page.words}`);
    for (const [name, value] of Object.entries(filled)) form.fields.set(name, value);
    return this.#follow(await this.post(form.action, form.fields));
  }

  /** A form by itself, sent from a page of this site unless said otherwise. Redirects are not followed. */
  post(path: string, fields: URLSearchParams, headers: Record<string, string> = {}): Promise<Shown> {
    const from = { Origin: SIGNED_UNDER.publicUrl, 'Content-Type': 'application/x-www-form-urlencoded' };
    return this.#ask(path, { method: 'POST', headers: { ...from, ...headers }, body: fields.toString() });
  }
}

export const PASSWORD = 'seven marmots under the porch';

/** Someone of the roster, signed in by a one-time link as the terminal or the owner gives it. */
export async function signedIn(desk: NightDesk, phone: string): Promise<Visitor> {
  const { people } = await desk.pages.records.roster();
  const person = people.find((each) => each.phone === phone) ?? expect.fail(`nobody has ${phone}`);
  const visitor = new Visitor(desk);
  const form = await visitor.get(await newPasswordLink(desk.pages.signIn, person.id, desk.now()));
  await visitor.send(form, 'New password', { password: PASSWORD, again: PASSWORD });
  return visitor;
}

export const theOwner = (desk: NightDesk): Promise<Visitor> => signedIn(desk, ODALYS);

/** The path of the last link that someone was texted. */
export function linkTo(desk: NightDesk, phone: string = BRAM): string {
  const links = desk.carrier.textsTo(phone).flatMap((text) => text.match(/\/c\/[\w-]{16}/g) ?? []);
  return links.at(-1) ?? expect.fail(`no text to ${phone} carries a link`);
}
