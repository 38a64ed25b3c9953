import { html } from 'htm/preact';
import { readablePhone } from '../../desk/callout/brief.ts';
import { page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, tokenField } from '../layout.ts';
import { NothingHere, rowOf, signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { newPasswordLink } from './tokens.ts';

const MAY_SEE = {
  owner: 'every sheet, and marks lines that were heard wrong',
  technician: 'their own callouts and the roster',
} as const;

async function people(visit: Visit, made: { readonly name: string; readonly link: string } | null) {
  const roster = await visit.side.records.roster();
  const body = html`
    ${
      made === null
        ? null
        : html`<p class="said" role="status">
            For ${made.name}, once, within a day: <span class="words">${made.link}</span><br />
            Give it to them yourself. It is not shown again.
          </p>`
    }
    <p class="faint">People of the roster. They are entered with <code>npm run roster</code>.</p>
    <ul class="ledger">
      ${roster.people.map(
        (person) => html`<li class="wide">
          <div>
            <p><strong>${person.name}</strong>, ${person.role}, <span class="figure">${readablePhone(person.phone)}</span></p>
            <p class="faint">May see ${MAY_SEE[person.role]}.</p>
            <div class="line">
              <form method="post" action=${`/people/${visit.seal.id('person', person.id)}/link`}>
                ${tokenField(visit.formToken)}
                <button class="second">Link to set a password, for ${person.name}</button>
              </form>
              <form method="post" action=${`/people/${visit.seal.id('person', person.id)}/sign-out`}>
                ${tokenField(visit.formToken)}
                <button class="plain">Sign ${person.name} out everywhere</button>
              </form>
            </div>
          </div>
        </li>`,
      )}
    </ul>
  `;
  return leaf(visit, { title: 'People', body });
}

export async function peoplePage(visit: Visit): Promise<Answer> {
  return page(await people(visit, null));
}

/** Makes a one-time link and shows it to the owner, who hands it over. */
export async function makeLink(visit: Visit): Promise<Answer> {
  const id = rowOf(visit, 'person');
  const person = (await visit.side.records.roster()).people.find((each) => each.id === id);
  if (person === undefined) throw new NothingHere('no such person');
  const path = await newPasswordLink(visit.side.signIn, person.id, visit.now);
  return page(await people(visit, { name: person.name, link: `${visit.side.publicUrl}${path}` }));
}

export async function signOutPerson(visit: Visit): Promise<Answer> {
  await visit.side.signIn.endSessionsOf(rowOf(visit, 'person'));
  return page(await people(visit, null));
}

export async function accountPage(visit: Visit): Promise<Answer> {
  const person = signedIn(visit);
  const body = html`
    <dl>
      <dt>Name</dt>
      <dd>${person.name}</dd>
      <dt>Phone</dt>
      <dd>${readablePhone(person.phone)}</dd>
      <dt>May see</dt>
      <dd>${MAY_SEE[person.role]}</dd>
    </dl>
    <form method="post" action="/sign-out-everywhere">
      ${tokenField(visit.formToken)}
      <button class="second">Sign out everywhere</button>
    </form>
    <p class="faint">On every phone and computer, this one too.</p>
  `;
  return page(leaf(visit, { title: 'Your account', body }));
}
