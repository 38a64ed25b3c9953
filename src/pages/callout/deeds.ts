import { randomBytes } from 'node:crypto';
import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { CalloutDeed } from '../../desk/page-desk.ts';
import type { Language } from '../../words/heard.ts';
import { tokenField } from '../layout.ts';
import type { CalloutLink } from '../records.ts';
import type { Visit } from '../visit.ts';
import type { Standing } from './standing.ts';

type Deed = Pick<CalloutDeed, 'id' | 'command' | 'words'>;

const LANGUAGE: Readonly<Record<Language, string>> = { en: 'English', es: 'Spanish' };
/** Two texts for a guest, a page for a note. */
const LONGEST = { tell: 300, done: 1000 } as const;

/** One button with what goes along. Each is named anew with every page, so that a press counts once. */
function deedForm(visit: Visit, { token }: CalloutLink, command: Deed['command'], inside: unknown): VNode {
  return html`<form method="post" action=${`/c/${token}`}>
    ${tokenField(visit.formToken)}
    <input type="hidden" name="deed" value=${command} />
    <input type="hidden" name="id" value=${randomBytes(12).toString('base64url')} />
    ${inside}
  </form>`;
}

/** What this person can do now: TAKE and PASS; or, once it is theirs, TELL, DONE and PASS. */
export function deeds(visit: Visit, link: CalloutLink, standing: Standing, lang: Language): VNode {
  const take = deedForm(visit, link, 'take', html`<button>TAKE</button>`);
  const pass = deedForm(visit, link, 'pass', html`<button class="second">PASS</button>`);
  if (standing === 'open') return html`<div class="deeds at-hand">${take}${pass}</div>`;
  if (standing === 'passed') return html`<div class="deeds at-hand">${take}</div>`;
  return html`<div class="deeds">
    <h2>Tell the guest</h2>
    ${deedForm(
      visit,
      link,
      'tell',
      html`<label for="tell"
          >The guest writes <strong>${LANGUAGE[lang]}</strong>. Your words go out as you write them.</label
        >
        <textarea id="tell" name="words" lang=${lang} required maxlength=${LONGEST.tell}></textarea>
        <button>TELL</button>`,
    )}
    <h2>Close it</h2>
    ${deedForm(
      visit,
      link,
      'done',
      html`<label for="found">What you found and did</label>
        <textarea id="found" name="words" required maxlength=${LONGEST.done}></textarea>
        <button>DONE</button>`,
    )}
    <h2>Cannot go after all</h2>
    ${pass}
  </div>`;
}

/** The deed that a form names; null when it is none of these. */
export function deedIn(form: URLSearchParams): Deed | null {
  const command = (['take', 'pass', 'tell', 'done'] as const).find((each) => each === form.get('deed'));
  const id = form.get('id') ?? '';
  if (command === undefined || !/^[\w-]{16}$/.test(id)) return null;
  const words = command === 'tell' || command === 'done' ? (form.get('words') ?? '').slice(0, LONGEST[command]) : '';
  return { id, command, words };
}
