import { html } from 'htm/preact';
import type { Person } from '../../roster/roster.ts';
import { page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, tokenField } from '../layout.ts';
import type { Visit } from '../visit.ts';
import { LONGEST_PASSWORD, SHORTEST_PASSWORD, hashPassword } from './password.ts';
import { beginSession, knownBrowser } from './session.ts';
import { hashOfToken } from './tokens.ts';

function form(visit: Visit, person: Person, problem: string | null) {
  const body = html`
    ${problem === null ? null : html`<p class="said" role="alert">${problem}</p>`}
    <p>
      For ${person.name}. At least ${SHORTEST_PASSWORD} characters: a few words that go together for you alone do well.
    </p>
    <form method="post">
      ${tokenField(visit.formToken)}
      <p>
        <label for="username">Your phone number, which you sign in with</label>
        <input id="username" name="username" type="tel" autocomplete="username" readonly value=${person.phone} />
      </p>
      <p>
        <label for="password">New password</label>
        <input
          id="password"
          name="password"
          type="password"
          autocomplete="new-password"
          required
          minlength=${SHORTEST_PASSWORD}
          maxlength=${LONGEST_PASSWORD}
        />
      </p>
      <p>
        <label for="again">The same again</label>
        <input id="again" name="again" type="password" autocomplete="new-password" required />
      </p>
      <p><button>Set it and sign in</button></p>
    </form>
  `;
  return leaf(visit, { title: 'Set your password', body, bare: true });
}

async function ended(visit: Visit): Promise<Answer> {
  const body = html`<p>
    This link was used, or has ended. The owner makes you another under People; the owner’s own comes from
    <code>npm run password-link</code> on the desk’s machine.
  </p>`;
  return page(leaf(visit, { title: 'This link no longer opens', body, bare: true }), 410);
}

/** Opening the link uses nothing up: previews fetch it too. */
export async function passwordPage(visit: Visit): Promise<Answer> {
  const person = await visit.side.signIn.passwordLink(hashOfToken(visit.params['token'] ?? ''), visit.now);
  return person === null ? ended(visit) : page(form(visit, person, null));
}

/** Sets the password, uses the link up, ends every session of the person, and signs them in here. */
export async function setPassword(visit: Visit): Promise<Answer> {
  const { side, now } = visit;
  const tokenHash = hashOfToken(visit.params['token'] ?? '');
  const person = await side.signIn.passwordLink(tokenHash, now);
  if (person === null) return ended(visit);
  const password = visit.form.get('password') ?? '';
  const { length } = password;
  if (length < SHORTEST_PASSWORD || length > LONGEST_PASSWORD) {
    const problem = `It has ${length} characters; from ${SHORTEST_PASSWORD} to ${LONGEST_PASSWORD} are taken.`;
    return page(form(visit, person, problem), 400);
  }
  if (password !== visit.form.get('again')) {
    return page(form(visit, person, 'The two are not the same. Write it twice.'), 400);
  }
  const used = await side.signIn.usePasswordLink(tokenHash, await hashPassword(password), now);
  if (used === null) return ended(visit);
  await side.signIn.forgetTries(used.phone);
  side.note('a password was set by a link', { person: used.id });
  return seeOther('/', await beginSession(side, used, now), knownBrowser(side.publicUrl, visit.seal, used));
}
