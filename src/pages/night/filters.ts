import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { ENDINGS } from '../../flow/ending.ts';
import type { Visit } from '../visit.ts';
import type { Asked } from './query.ts';
import { MOST_NIGHTS } from './query.ts';
import { ENDING_WORDS } from './told.ts';

type Choice = readonly [value: string, words: string];

export function choice(name: string, label: string, choices: readonly Choice[], chosen: string | null): VNode {
  return html`<p>
    <label for=${`by-${name}`}>${label}</label>
    <select id=${`by-${name}`} name=${name}>
      ${choices.map(([value, words]) => html`<option value=${value} selected=${value === (chosen ?? '')}>${words}</option>`)}
    </select>
  </p>`;
}

/** The form that narrows the night: closed until it is wanted, open while it does something. */
export async function filters(visit: Visit, { first, last, query, narrowed }: Asked): Promise<VNode> {
  const { seal, side } = visit;
  const { properties, units } = await side.records.places();
  const flows = side.desk.book().flows;
  return html`<details open=${narrowed || first !== last}>
    <summary>Look for something</summary>
    <form class="line" method="get" action="/night" role="search">
      <p>
        <label for="by-from">From the night of</label>
        <input id="by-from" type="date" name="from" value=${first} />
      </p>
      <p>
        <label for="by-to">to the night of</label>
        <input id="by-to" type="date" name="to" value=${last} />
      </p>
      ${choice(
        'property',
        'Property',
        [['', 'any'], ...properties.map(({ id, name }): Choice => [seal.id('property', id), name])],
        query.propertyId === null ? null : seal.id('property', query.propertyId),
      )}
      ${choice(
        'unit',
        'Unit',
        [['', 'any'], ...units.map(({ id, tag }): Choice => [seal.id('unit', id), tag])],
        query.unitId === null ? null : seal.id('unit', query.unitId),
      )}
      ${choice('matter', 'Matter', [['', 'any'], ...flows.map(({ flow, matter }): Choice => [flow, matter])], query.flow)}
      ${choice(
        'ending',
        'Ending',
        [['', 'any'], ['open', 'still open'], ...ENDINGS.map((ending): Choice => [ending, ENDING_WORDS[ending]])],
        query.ending,
      )}
      <p>
        <label for="by-words">Words that were said</label>
        <input id="by-words" type="search" name="words" maxlength="200" value=${query.words ?? ''} />
      </p>
      <p><button>Look</button> <a href="/night">Tonight again</a></p>
    </form>
    <p class="faint">At most ${MOST_NIGHTS} nights at once.</p>
  </details>`;
}
