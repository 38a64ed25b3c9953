import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { daysLater } from '../../time/calendar.ts';
import { instantAt } from '../../time/calendar.ts';
import { msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { NightLine } from '../records.ts';
import { spanOfNight } from '../when.ts';
import { wasDanger } from './told.ts';

const WIDTH = 720;
const [TOP, FLOOR, HEIGHT] = [18, 44, 62];
/** Every third hour is ruled and named. */
const HOURS = ['18:00', '21:00', '00:00', '03:00', '06:00', '09:00', '12:00', '15:00'] as const;

/**
 * A night from evening to evening as a ruled strip: a stroke where a conversation began, a barred block with a D where
 * there was danger. The lines below say the same in words, so readers who cannot see it are spared it.
 */
export function strip(lines: readonly NightLine[], night: string, zone: string): VNode {
  const span = spanOfNight(night, zone);
  const [from, until] = [msOf(span.from), msOf(span.until)];
  const x = (instant: Instant): number => Math.round((WIDTH * (msOf(instant) - from)) / (until - from));
  return html`<svg class="strip" viewBox=${`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
    <line class="axis" x1="0" x2=${WIDTH} y1=${FLOOR} y2=${FLOOR} />
    ${HOURS.map((name) => {
      const at = x(instantAt(name < '18:00' ? daysLater(night, 1) : night, name, zone));
      return html`<line class="axis" x1=${at} x2=${at} y1=${TOP - 8} y2=${FLOOR + 4} /><text x=${at + 3} y=${HEIGHT - 4}>${name.slice(0, 2)}</text>`;
    })}
    ${lines.map((told) => {
      const at = x(told.openedAt);
      if (!wasDanger(told)) return html`<line class="stroke" x1=${at} x2=${at} y1=${TOP + 8} y2=${FLOOR} />`;
      return html`<rect class="block" x=${at - 2} y=${TOP - 6} width="4" height=${FLOOR - TOP + 6} /><rect class="flag" x=${at - 2} y=${TOP - 16} width="16" height="15" /><text class="flagged" x=${at + 6} y=${TOP - 4} text-anchor="middle">D</text>`;
    })}
  </svg>`;
}
