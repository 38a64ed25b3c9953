import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { z } from 'zod';
import type { FlowBook, StepId } from '../../flow/book.ts';
import { flowOf } from '../../flow/book.ts';
import type { CallSheet } from '../records.ts';
import type { Visit } from '../visit.ts';
import { withPath } from '../flows/drawn.ts';

/** Of the machine's kept state, the steps it came through. */
const stateSchema = z.object({ context: z.object({ trail: z.array(z.string()) }) });

function trailOf(state: string): readonly StepId[] {
  try {
    return stateSchema.parse(JSON.parse(state)).context.trail;
  } catch {
    return []; // a state of an engine of long ago; the entries still name the steps that were answered
  }
}

/** The steps that a conversation came through, in order. */
export function stepsWalked({ conversation, entries }: CallSheet): readonly StepId[] {
  const named = new Set(entries.flatMap(({ step }) => (step?.includes('.') === true ? [step] : [])));
  // A step that was passed without a word, such as the opening by someone who says at once what is wrong, came first.
  return [...trailOf(conversation.state).filter((step) => !named.has(step)), ...named];
}

/** The path through the charts of the flows it came through, and each whole chart for those who want it. */
export async function pathOf(visit: Visit, sheet: CallSheet, book: FlowBook): Promise<VNode> {
  const steps = stepsWalked(sheet);
  const walked = new Set(steps);
  const flows = [...new Set(steps.map(flowOf))];
  const { lang } = sheet.conversation;
  const charts: VNode[] = [];
  for (const flow of flows) {
    const path = await visit.drawn.path(book, flow, lang, walked);
    const whole = await visit.drawn.chart(book, flow, lang);
    if (path === null || whole === null) continue;
    charts.push(
      html`<h3>${flow}</h3>
        <div
          class="flow-chart path"
          tabindex="0"
          role="group"
          aria-label=${`The path through ${flow}`}
          dangerouslySetInnerHTML=${{ __html: path }}
        ></div>
        <details>
          <summary>The whole chart of ${flow}</summary>
          <div
            class="flow-chart"
            tabindex="0"
            role="group"
            aria-label=${`The whole chart of ${flow}, its path marked`}
            dangerouslySetInnerHTML=${{ __html: withPath(whole, walked) }}
          ></div>
        </details>`,
    );
  }
  return html`<div>
    <h2>The path</h2>
    <p class="faint">${steps.join(' → ')}</p>
    ${charts}
  </div>`;
}
