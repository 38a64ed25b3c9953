import { html } from 'htm/preact';
import { parsePhoneNumberFromString } from 'libphonenumber-js';
import { after } from '../../time/instant.ts';
import { page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, tokenField } from '../layout.ts';
import type { Visit } from '../visit.ts';
import { NO_PASSWORD, isPassword } from './password.ts';
import { beginSession, endedSession, knownBrowser } from './session.ts';

/**
 * Tries at one account, and the time in which they are counted. A browser with which the person has signed in before counts
 * for itself, and all others together: so nobody who only knows the number keeps its owner out, and many addresses are
 * no more guesses than one. After OWASP's device cookies (Slow Down Online Guessing Attacks with Device Cookies), which
 * need no address: behind a proxy that is whatever a header says.
 */
const MOST_TRIES = 8;
const TRIES_COUNT_FOR = '-PT15M';

/** The number as records keep it; null where it cannot be read. */
function e164(written: string): string | null {
  return parsePhoneNumberFromString(written.trim(), { defaultCountry: 'US', extract: false })?.number ?? null;
}

const WRONG = 'That number and password do not go together.';
const TOO_OFTEN = 'That was tried too often. Wait a quarter of an hour, or set a new password by a link.';

function form(visit: Visit, problem: string | null) {
  const body = html`
    ${problem === null ? null : html`<p class="said" role="alert">${problem}</p>`}
    <form method="post" action="/sign-in">
      ${tokenField(visit.formToken)}
      <p>
        <label for="phone">Your phone number</label>
        <input
          id="phone"
          name="phone"
          type="tel"
          autocomplete="username"
          required
          value=${visit.form.get('phone') ?? ''}
        />
      </p>
      <p>
        <label for="password">Your password</label>
        <input id="password" name="password" type="password" autocomplete="current-password" required />
      </p>
      <p><button>Sign in</button></p>
    </form>
    <p class="faint">
      No password yet, or forgotten? The owner makes you a link under People. The owner’s own link is printed in the
      terminal when the desk starts, until it was used; <code>npm run password-link</code> prints another.
    </p>
  `;
  return leaf(visit, { title: 'Sign in', body, bare: true });
}

export async function signInPage(visit: Visit): Promise<Answer> {
  return visit.person === null ? page(form(visit, null)) : seeOther('/');
}

/** Signs in; what is wrong is never told apart, nor shown by how long it takes. */
export async function signIn(visit: Visit): Promise<Answer> {
  const { side, now } = visit;
  const phone = e164(visit.form.get('phone') ?? '');
  if (phone === null) return page(form(visit, WRONG), 401);
  const account = await side.signIn.account(phone);
  const known = account === null ? null : visit.seal.openBrowser(account.person.id, visit.browser);
  const counter = known === null ? phone : `${phone} ${known}`;
  const tried = await side.signIn.noteTry(counter, now, after(now, TRIES_COUNT_FOR));
  if (tried > MOST_TRIES) {
    side.note('sign-in was tried too often', { tried });
    return page(form(visit, TOO_OFTEN), 429);
  }
  const right = await isPassword(visit.form.get('password') ?? '', account?.password ?? NO_PASSWORD);
  if (account === null || account.password === null || !right) {
    return page(form(visit, WRONG), 401);
  }
  await side.signIn.forgetTries(counter);
  side.note('someone signed in', { person: account.person.id });
  const session = await beginSession(side, account.person, now);
  if (known !== null) return seeOther('/', session);
  return seeOther('/', session, knownBrowser(side.publicUrl, visit.seal, account.person));
}

export async function signOut({ side, session }: Visit): Promise<Answer> {
  if (session !== null) await side.signIn.endSession(session);
  return seeOther('/sign-in', endedSession(side.publicUrl));
}

/** Ends every session of this person, on whatever machine. */
export async function signOutEverywhere({ side, person }: Visit): Promise<Answer> {
  if (person !== null) await side.signIn.endSessionsOf(person.id);
  return seeOther('/sign-in', endedSession(side.publicUrl));
}
