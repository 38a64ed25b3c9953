import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { stepsIn } from '../../flow/book.ts';
import type { FlowBook } from '../../flow/book.ts';
import type { FlowDocument, Step } from '../../flow/document.ts';
import { LANGUAGES } from '../../words/heard.ts';
import type { Language } from '../../words/heard.ts';
import { page } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf } from '../layout.ts';
import { NothingHere } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { LANGUAGE_NAMES } from './hear-box.ts';

/** What a step says in a language, what it tells before what it asks. */
function wording({ tell, ask, says }: Step, lang: Language): string {
  if (says === 'emergency') return 'The emergency reply, by the signs heard.';
  return [tell, ask].flatMap((each) => (each === undefined ? [] : [each[lang]])).join(' ');
}

/** Where each answer leads, by its label in the language. */
function waysOn(book: FlowBook, { flow }: FlowDocument, { hears, go = {} }: Step, lang: Language): readonly string[] {
  const labels = hears === undefined ? {} : (book.phrases.labels[hears] ?? {});
  return Object.entries(go).map(
    ([answer, target]) =>
      `${labels[answer]?.[lang] ?? answer.replaceAll('-', ' ')} → ${stepsIn(flow, target).join(' or ')}`,
  );
}

function stepLine(book: FlowBook, flow: FlowDocument, name: string, step: Step): VNode {
  const silent = step.silent === undefined ? null : `silence for ${step.silent.after} → ${step.silent.to}`;
  return html`<li id=${`step-${name}`}>
    <span class="when">${name}</span>
    <div>
      <div class="told">
        ${LANGUAGES.map((lang) => {
          const ways = waysOn(book, flow, step, lang);
          return html`<div lang=${lang}>
            <p>${wording(step, lang)}</p>
            ${ways.length === 0 ? null : html`<p class="faint">${ways.join('; ')}</p>`}
          </div>`;
        })}
      </div>
      ${silent === null ? null : html`<p class="faint">${silent}</p>`}
      ${step['pauses-oxygen'] === true ? html`<p class="hand">While it is followed the guest is without oxygen for a short time.</p>` : null}
      ${step.end === undefined ? null : html`<p class="hand">Ends: ${step.end.replaceAll('-', ' ')}</p>`}
    </div>
  </li>`;
}

/** One flow as its chart, and as its wording in every language. */
export async function flowPage(visit: Visit): Promise<Answer> {
  const book = visit.side.desk.book();
  const name = visit.params['flow'] ?? '';
  const flow = book.flows.find((each) => each.flow === name);
  if (flow === undefined) throw new NothingHere('no such flow');
  const lang = LANGUAGES.find((each) => each === visit.query.get('lang')) ?? 'en';
  const chart = (await visit.drawn.chart(book, name, lang)) ?? '';
  const topics = Object.keys(flow['opens-on']).map((topic) => topic.replaceAll('-', ' '));
  const body = html`
    <p>${flow.about}</p>
    <p class="faint">
      ${topics.length === 0 ? 'No topic opens it; other flows lead here.' : `Opened by: ${topics.join(', ')}.`} At most
      ${` ${flow['guest-messages']}`} guest messages to an ending. The file is flows/${name}.yaml.
    </p>
    <h2>As a chart, in ${LANGUAGE_NAMES[lang]}</h2>
    <p>
      ${LANGUAGES.filter((each) => each !== lang).map(
        (each) => html`<a class="tap" href=${`/flows/${name}?lang=${each}`}>In ${LANGUAGE_NAMES[each]}</a>`,
      )}
    </p>
    <div
      class="flow-chart"
      tabindex="0"
      role="group"
      aria-label=${`The chart of ${name}`}
      dangerouslySetInnerHTML=${{ __html: chart }}
    ></div>
    <h2>As it is worded</h2>
    <ol class="ledger steps">
      ${Object.entries(flow.steps).map(([step, document]) => stepLine(book, flow, step, document))}
    </ol>
    <p><a href="/flows">All flows</a></p>
  `;
  return page(leaf(visit, { title: `${flow.matter}: the flow ${name}`, body }));
}
