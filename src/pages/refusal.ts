import { html } from 'htm/preact';
import { page, seeOther } from './answer.ts';
import type { Answer } from './answer.ts';
import { leaf } from './layout.ts';
import type { Visit } from './visit.ts';

/** Someone may not come here: those who are not signed in are asked to, a form that is not ours is not taken. */
export async function refused(visit: Visit, why: 'person' | 'form' = 'person'): Promise<Answer> {
  if (why === 'form') {
    const body = html`<p>
      This form was not sent from a page of this desk, or the page was open for too long. Go back, load the page again
      and send it once more.
    </p>`;
    return page(leaf(visit, { title: 'Not taken', body, bare: true }), 403);
  }
  if (visit.person === null) return seeOther('/sign-in');
  const body = html`<p>This sheet is for the owner. Ask them, or <a href="/">go to your own</a>.</p>`;
  return page(leaf(visit, { title: 'Not for you', body }), 403);
}

export async function nothingHere(visit: Visit): Promise<Answer> {
  const body = html`<p>Nothing is at this address. <a href="/">Begin anew</a>.</p>`;
  return page(leaf(visit, { title: 'Nothing here', body }), 404);
}

/** Too many are signing in at once. */
export async function busy(visit: Visit): Promise<Answer> {
  const body = html`<p>Too many are signing in at this moment. Go back and send it once more in some seconds.</p>`;
  return page(leaf(visit, { title: 'Wait a moment', body, bare: true }), 503);
}
