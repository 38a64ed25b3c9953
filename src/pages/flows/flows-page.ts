import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { FlowBook } from '../../flow/book.ts';
import { fragment, page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf, tokenField } from '../layout.ts';
import type { Visit } from '../visit.ts';
import { dayAndHour } from '../when.ts';
import { hearBox } from './hear-box.ts';

interface Review {
  readonly by: string | null;
  readonly on: string | null;
}

function reviewWords({ by, on }: Review): VNode {
  if (by === null || on === null) {
    return html`<strong>Nobody has reviewed it.</strong> It needs the sign-off of a licensed clinician of yours before guests
      rely on it.`;
  }
  return html`Reviewed by ${by} on ${on}.`;
}

function flowList({ flows }: FlowBook): VNode {
  return html`<ol class="ledger long">
    ${flows.map(
      ({ flow, matter, about, steps }) =>
        html`<li>
          <span class="when"><a href=${`/flows/${flow}`}>${flow}</a></span>
          <div>
            <p>${matter}</p>
            <p class="faint">${about} Steps: ${Object.keys(steps).length}.</p>
          </div>
        </li>`,
    )}
  </ol>`;
}

function limits({ limits: { limits: all, reviewed } }: FlowBook): VNode {
  return html`<h2>Limits</h2>
    <p>${reviewWords(reviewed)}</p>
    <details>
      <summary>The numbers that sentences may name</summary>
      <div class="scroll" tabindex="0" role="group" aria-label="Limits">
        <table>
          <thead>
            <tr>
              ${['Limit', 'Value', 'What it is', 'Where it is from'].map((name) => html`<th scope="col">${name}</th>`)}
            </tr>
          </thead>
          <tbody>
            ${Object.entries(all).map(
              ([name, { value, unit, mark, source }]) =>
                html`<tr>
                  <td>${name.replaceAll('-', ' ')}</td>
                  <td class="figure">${value} ${unit}</td>
                  <td>${mark}</td>
                  <td>${source}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`;
}

function symptomTable({ symptomTable: { reviewed, rows, 'low-reading-pct': low } }: FlowBook): VNode {
  const fits = ({ to: _, because: __, ...when }: FlowBook['symptomTable']['rows'][number]): string =>
    Object.entries(when)
      .map(
        ([name, value]) => `${name.replaceAll('-', ' ')}: ${Array.isArray(value) ? value.join(' or ') : String(value)}`,
      )
      .join('; ');
  return html`<h2>Table of symptoms</h2>
    <p>${reviewWords(reviewed)}</p>
    <details>
      <summary>Its rows: the first that fits decides</summary>
      <p class="faint">A reading of ${low}% or below is low.</p>
      <div class="scroll" tabindex="0" role="group" aria-label="Table of symptoms">
        <table>
          <thead>
            <tr>
              ${['When', 'Leads to', 'Because'].map((name) => html`<th scope="col">${name}</th>`)}
            </tr>
          </thead>
          <tbody>
            ${rows.map(
              (row) =>
                html`<tr>
                  <td>${fits(row) || 'everybody else'}</td>
                  <td>${row.to}</td>
                  <td>${row.because}</td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
    </details>`;
}

/** What the check of the files says: what changes while one runs. */
function checkSays({ side, formToken }: Visit): VNode {
  const last = side.checks.last();
  const since = side.checks.runningSince();
  const { zone } = side.outfit;
  return html`<div>
    ${
      since === null
        ? html`<form method="post" action="/flows/check">
            ${tokenField(formToken)}
            <button class="second">Check the files now</button>
          </form>`
        : html`<p role="status"><strong>A check is running</strong> since ${dayAndHour(since, zone)}. Load the page again in a while.</p>`
    }
    ${
      last === null
        ? html`<p>Nothing was checked since the desk was started.</p>`
        : html`<p>
              ${dayAndHour(last.at, zone)}:${' '}
              <strong>${last.ok ? 'nothing wrong was found.' : 'the files are refused.'}</strong>${
                last.ok ? '' : ' The desk goes on with the flows it has.'
              }
            </p>
            <ul class="plain">
              ${last.lines.map((line) => html`<li class="words">${line}</li>`)}
            </ul>`
    }
  </div>`;
}

function checkPart(visit: Visit): VNode {
  return html`<h2>What the check says</h2>
    <div data-live="/flows/check/live" data-every="5">${checkSays(visit)}</div>
    <p class="faint">
      It reads the files in flows/ and walks every state of them as several kinds of guests, in a process of its own: about
      a minute of work. Edited files are checked by themselves, and taken up when nothing is found.
    </p>`;
}

/** The same part alone, for the script. */
export async function checkLive(visit: Visit): Promise<Answer> {
  return fragment(checkSays(visit));
}

async function flowsLeaf(visit: Visit): Promise<Answer> {
  const book = visit.side.desk.book();
  const body = html`${flowList(book)}
    <p class="faint">
      What guests said that was not understood, and the steps at which they give up, stand under${' '}
      <a href="/learned">Learned</a>.
    </p>
    ${hearBox(visit)} ${checkPart(visit)} ${limits(book)} ${symptomTable(book)}`;
  return page(leaf(visit, { title: 'Flows', body, script: true }));
}

/** The flows of today, who reviewed what they rely on, what their check says, and what a text would be heard as. */
export const flowsPage = flowsLeaf;
/** The same with the answer to the box. */
export const hearText = flowsLeaf;

/** Begins a check and does not wait for it. */
export async function checkFlowFiles({ side }: Visit): Promise<Answer> {
  void side.checks.run();
  return seeOther('/flows');
}
