import { html } from 'htm/preact';
import { page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { dangerWord, leaf } from '../layout.ts';
import { takenWords } from '../night/told.ts';
import { signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { hour } from '../when.ts';

/** The callouts that a technician was rung for and can still open, newest first. */
export async function ownCalloutsPage(visit: Visit): Promise<Answer> {
  const person = signedIn(visit);
  const links = await visit.side.records.calloutLinksOf(person.id, visit.now);
  const { zone } = visit.side.outfit;
  const body =
    links.length === 0
      ? html`<p>Nobody has rung you lately. When someone does, the text has a link of its own.</p>`
      : html`<ol class="ledger">
          ${links.map(
            ({ callout, token }) =>
              html`<li>
                <time datetime=${callout.openedAt}>${hour(callout.openedAt, zone)}</time>
                <div>
                  <p>
                    ${callout.urgency === 'danger' ? html`${dangerWord()} ` : null}
                    <a href=${`/c/${token}`}>Callout ${callout.id}: ${callout.matter}</a>
                  </p>
                  <p class="hand">${takenWords({ callouts: [callout] })}</p>
                </div>
              </li>`,
          )}
        </ol>`;
  return page(leaf(visit, { title: 'Your callouts', body }));
}
