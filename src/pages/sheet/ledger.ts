import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { TRYING_STEP } from '../../desk/callout/attempts.ts';
import type { Entry } from '../../desk/records.ts';
import type { FlowBook, StepId } from '../../flow/book.ts';
import { stepsOf } from '../../flow/book.ts';
import type { AnswerKind } from '../../words/heard.ts';
import { dangerWord, quoted } from '../layout.ts';
import { pictureLinks } from '../media.ts';
import type { CallSheet, Delivery } from '../records.ts';
import type { Visit } from '../visit.ts';
import { hour } from '../when.ts';
import { heardInWords, withDeciding } from './heard-words.ts';
import type { KeptHeard } from './heard-words.ts';
import { markForm } from './mark-form.ts';

const DELIVERY_WORDS: Readonly<Record<Delivery, string>> = {
  waiting: 'with the carrier',
  'handed-on': 'handed on to the network',
  arrived: 'delivered',
  lost: 'NOT DELIVERED',
  'to be sent': 'to be sent',
  sent: 'sent',
  'not sent': 'NOT SENT',
};

/** What the step that stood was listening for. */
export function askedAt(book: FlowBook | null, step: StepId | null): AnswerKind | null {
  return book === null || step === null ? null : (stepsOf(book).get(step)?.hears ?? null);
}

function guestLine(visit: Visit, sheet: CallSheet, book: FlowBook | null, entry: Entry): VNode {
  const heard = (entry.heard ?? {}) as KeptHeard;
  const { danger = 'none', why = [] } = heard;
  const words = withDeciding(entry.words, why).map((stretch) =>
    stretch.decided ? html`<mark>${stretch.words}</mark>` : stretch.words,
  );
  return html`<div>
    <p><span class="who">Guest</span>${entry.step === null ? '' : html` <small>answering ${entry.step}</small>`}</p>
    <p><bdi class="words" dir="auto">${words}</bdi></p>
    ${pictureLinks(visit, `/night/${visit.params['id'] ?? ''}`, [entry])}
    <p class="faint">
      ${danger === 'now' ? html`${dangerWord()} ` : null}Heard: ${heardInWords(heard).join('; ')}
      ${why.length === 0 ? '.' : html`, by “${quoted(why.join('” and “'))}”.`}
    </p>
    ${
      visit.person?.role === 'owner'
        ? markForm(visit, entry, askedAt(book, entry.step), sheet.marks.get(entry.id) ?? null)
        : null
    }
  </div>`;
}

/** Notes of the desk that nobody was sent: who was tried, and what a guest found out about an outlet. */
function isNote(entry: Entry): boolean {
  return entry.step === TRYING_STEP || /^outlet (works|switched|dead)$/.test(entry.words);
}

function deskLine(entry: Entry, delivery: Delivery | undefined): VNode {
  if (isNote(entry)) return html`<div class="desk"><p class="hand">${entry.words}</p></div>`;
  return html`<div class="desk">
    <p>
      <span class="who">Desk</span>${entry.step === null ? '' : html` <small>${entry.step}</small>`}
      ${delivery === undefined ? null : html` <small>— ${DELIVERY_WORDS[delivery]}</small>`}
    </p>
    <p>${quoted(entry.words)}</p>
  </div>`;
}

function handLine(entry: Entry): VNode {
  return html`<div class="desk">
    <p><span class="who">${entry.who}</span></p>
    <p class="hand">${quoted(entry.words)}</p>
  </div>`;
}

/** Every line of a conversation in the order in which it was written, attempts to reach someone in their place. */
export function ledger(visit: Visit, sheet: CallSheet, book: FlowBook | null): VNode {
  const { zone } = visit.side.outfit;
  return html`<ol class="ledger">
    ${sheet.entries.map((entry) => {
      const said =
        entry.who === 'guest'
          ? guestLine(visit, sheet, book, entry)
          : entry.who === 'desk'
            ? deskLine(entry, sheet.deliveries.get(entry.id))
            : handLine(entry);
      return html`<li id=${`line-${entry.id}`}>
        <time datetime=${entry.at}>${hour(entry.at, zone)}</time>
        ${said}
      </li>`;
    })}
  </ol>`;
}
