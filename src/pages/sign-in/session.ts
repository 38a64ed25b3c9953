import { parseCookie, stringifySetCookie } from 'cookie';
import type { Person } from '../../roster/roster.ts';
import { after, msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Seal } from '../seal.ts';
import type { PagesSide } from '../visit.ts';
import { hashOfToken, newToken } from './tokens.ts';

/** How long someone stays signed in. */
const SESSION_LASTS = 'PT336H';

/** How long a browser is known by which someone has signed in. */
const BROWSER_IS_KNOWN_FOR_S = 180 * 24 * 60 * 60;

type CookieName = 'session' | 'form' | 'known';

const isSecure = (publicUrl: string): boolean => publicUrl.startsWith('https:');

/** Over https with the prefix that browsers hold to: this host alone, the whole of it, https. */
function cookieName(publicUrl: string, name: CookieName): string {
  return isSecure(publicUrl) ? `__Host-nightbell-${name}` : `nightbell-${name}`;
}

/** A cookie that no script reads and no other site's form sends. Expired when it has no value. */
function setCookie(publicUrl: string, name: CookieName, value: string, maxAgeS: number | undefined): string {
  return stringifySetCookie({
    name: cookieName(publicUrl, name),
    value,
    httpOnly: true,
    sameSite: 'lax',
    secure: isSecure(publicUrl),
    path: '/',
    ...(maxAgeS === undefined ? {} : { maxAge: maxAgeS }),
  });
}

/** Begins a session and gives the cookie that carries it. */
export async function beginSession({ signIn, publicUrl }: PagesSide, person: Person, now: Instant): Promise<string> {
  const token = newToken();
  const endsAt = after(now, SESSION_LASTS);
  await signIn.beginSession({ tokenHash: hashOfToken(token), personId: person.id, begunAt: now, endsAt });
  return setCookie(publicUrl, 'session', token, (msOf(endsAt) - msOf(now)) / 1000);
}

export function endedSession(publicUrl: string): string {
  return setCookie(publicUrl, 'session', '', 0);
}

/** The hash of the session's token in a Cookie header; null when there is none. */
export function sessionIn(publicUrl: string, header: string | undefined): string | null {
  const token = parseCookie(header ?? '')[cookieName(publicUrl, 'session')];
  return token === undefined || token === '' ? null : hashOfToken(token);
}

/** The cookie by which this browser is known to the person who signs in with it. */
export function knownBrowser(publicUrl: string, seal: Seal, person: Person): string {
  return setCookie(publicUrl, 'known', seal.browser(person.id, newToken()), BROWSER_IS_KNOWN_FOR_S);
}

/** What a browser shows to be known by, in a Cookie header; '' when it shows nothing. */
export function browserIn(publicUrl: string, header: string | undefined): string {
  return parseCookie(header ?? '')[cookieName(publicUrl, 'known')] ?? '';
}

/** What a form of someone who is not signed in is bound to: a cookie of their browser, given where it has none. */
export function formCookie(publicUrl: string, header: string | undefined): { value: string; toSet: string | null } {
  const value = parseCookie(header ?? '')[cookieName(publicUrl, 'form')];
  if (value !== undefined && value !== '') return { value, toSet: null };
  const given = newToken();
  return { value: given, toSet: setCookie(publicUrl, 'form', given, undefined) };
}
