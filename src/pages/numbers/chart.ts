import { scaleBand, scaleLinear } from 'd3-scale';
import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { NumbersTable } from './tables.ts';

const WIDTH = 520;
const HEIGHT = 150;
const EDGE = { top: 18, bottom: 26, left: 42 } as const;
/** Rows of a chart; the table has them all. */
const MOST_ROWS = 12;
const ROW_HEIGHT = 40;
const BAR_HEIGHT = 12;
/** What a value takes behind the longest bar. */
const VALUE_WIDTH = 60;
const LONGEST_LABEL = 48;

/** Every so manieth label is written, so that they do not touch. */
const LABELS = 7;

/** Of a share the whole is shown, so that nights can be compared. */
function highestOf(rows: NumbersTable['rows'], unit: string): number {
  return unit.startsWith('%') ? 100 : Math.max(1, ...rows.map(([, value]) => value ?? 0));
}

/** There is no half of a conversation; of money there is. */
function ticksOf(ticks: readonly number[], unit: string): readonly number[] {
  return unit === 'dollars' ? ticks : ticks.filter(Number.isInteger);
}

function columns({ title, rows, unit }: NumbersTable): VNode {
  const labels = rows.map(([label]) => label);
  const x = scaleBand(labels, [EDGE.left, WIDTH]).padding(0.25);
  const y = scaleLinear([0, highestOf(rows, unit)], [HEIGHT - EDGE.bottom, EDGE.top]).nice();
  const every = Math.ceil(labels.length / LABELS);
  const floor = HEIGHT - EDGE.bottom;
  return html`<svg
    viewBox=${`0 0 ${WIDTH} ${HEIGHT}`}
    width=${WIDTH}
    class="chart"
    role="img"
    aria-label=${`${title}, ${unit}; the table has the values`}
  >
    ${ticksOf(y.ticks(3), unit).map(
      (tick) =>
        html`<line class="axis" x1=${EDGE.left} x2=${WIDTH} y1=${y(tick)} y2=${y(tick)} />
            <text x=${EDGE.left - 6} y=${y(tick) + 4} text-anchor="end">${tick}</text>`,
    )}
    ${rows.map(([label, value], index) => {
      const left = x(label) ?? 0;
      const top = y(value ?? 0);
      return html`
        ${value === null ? null : html`<rect class="bar" x=${left} y=${top} width=${x.bandwidth()} height=${floor - top} />`}
        ${
          index % every === 0
            ? html`<text x=${left + x.bandwidth() / 2} y=${HEIGHT - 6} text-anchor="middle"
                >${label.replace(/^\w+ /, '')}</text
              >`
            : null
        }
      `;
    })}
  </svg>`;
}

function lying({ title, rows, unit }: NumbersTable): VNode {
  const shown = rows.slice(0, MOST_ROWS);
  const most = Math.max(1, ...shown.map(([, value]) => value ?? 0));
  const x = scaleLinear([0, most], [0, WIDTH - VALUE_WIDTH]);
  const height = Math.max(1, shown.length) * ROW_HEIGHT + 4;
  return html`<svg
    viewBox=${`0 0 ${WIDTH} ${height}`}
    width=${WIDTH}
    class="chart"
    role="img"
    aria-label=${`${title}, ${unit}; the table has the values`}
  >
    ${shown.map(([label, value], index) => {
      const top = index * ROW_HEIGHT;
      const words = label.length > LONGEST_LABEL ? `${label.slice(0, LONGEST_LABEL - 1)}…` : label;
      // Words above their bar: beside it they would be too small on a phone.
      return html`<text x="0" y=${top + 16}>${words}</text>
        <rect class="bar" x="0" y=${top + 22} width=${x(value ?? 0)} height=${BAR_HEIGHT} />
        <text x=${x(value ?? 0) + 6} y=${top + 33}>${value}</text>`;
    })}
  </svg>`;
}

/** A table of numbers as a small chart; null where there is nothing to draw. */
export function chart(table: NumbersTable): VNode | null {
  if (!table.rows.some(([, value]) => value !== null && value > 0)) return null;
  return table.drawn === 'columns' ? columns(table) : lying(table);
}
