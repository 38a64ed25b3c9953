import { scaleLinear } from 'd3-scale';
import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { RosterFlaw } from '../../roster/gaps.ts';
import type { Roster } from '../../roster/roster.ts';
import { stretchesBetween } from '../../roster/stretches.ts';
import { daysLater, instantAt } from '../../time/calendar.ts';
import { msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import { EVENING, dayName } from '../when.ts';
import type { Row, Week } from './nights.ts';

const WIDTH = 620;
const LABELS = 74;
const BAR = 20;
const BETWEEN_ROWS = 14;
const TOP = 20;
/** Hours that are ruled through every row and named above the first. */
const RULED = ['20:00', '00:00', '04:00', '08:00', '12:00', '16:00'] as const;
/** What a letter of a name takes, in units of the picture: names that do not fit are cut. */
const LETTER = 7;

interface Drawn {
  readonly x: (instant: Instant) => number;
  readonly top: number;
}

function words(name: string, width: number): string {
  const letters = Math.floor((width - 8) / LETTER);
  if (name.length <= letters) return name;
  const first = name.split(' ')[0] ?? name;
  return first.length <= letters ? first : letters < 3 ? '' : `${first.slice(0, letters - 1)}…`;
}

interface Box {
  readonly from: Instant;
  readonly until: Instant;
  readonly name: string;
  readonly kind: string;
  readonly line: number;
}

function box({ x, top }: Drawn, { from, until, name, kind, line }: Box): VNode {
  const [left, right] = [x(from), x(until)];
  const width = Math.max(0, right - left - 2);
  const y = top + line * BAR;
  return html`<rect class=${kind} x=${left + 1} y=${y} width=${width} height=${BAR - 3} /><text
      x=${left + 6}
      y=${y + 13}
      >${words(name, width)}</text
    >`;
}

/**
 * A week as a ruled sheet: a row for each night and the day after it, a line in it for each position, the first one filled,
 * ⇄ with a name that a swap put there. Dashed is where nobody is on shift, thick where two stand at one position. The lines
 * below say the same in words, so readers who cannot see it are spared it.
 */
export function picture(roster: Roster, week: Week, flaws: readonly RosterFlaw[], now: Instant): VNode {
  const stretches = stretchesBetween(roster, week.from, week.until);
  const positions = [...new Set(stretches.map(({ position }) => position))].toSorted((a, b) => a - b);
  const lines = Math.max(1, positions.length);
  const rowHeight = lines * BAR + BETWEEN_ROWS;
  const height = TOP + week.rows.length * rowHeight;
  const nameOf = (id: number): string => roster.people.find((person) => person.id === id)?.name ?? 'someone who left';

  function row({ day, from, until }: Row, index: number): VNode {
    const scale = scaleLinear([msOf(from), msOf(until)], [LABELS, WIDTH]);
    const x = (instant: Instant): number =>
      Math.round(scale(Math.min(Math.max(msOf(instant), msOf(from)), msOf(until))));
    const drawn: Drawn = { x, top: TOP + index * rowHeight + 8 };
    const { top } = drawn;
    const meets = (span: { readonly from: Instant; readonly until: Instant }): boolean =>
      span.from < until && from < span.until;
    const lineOf = (position: number): number => Math.max(0, positions.indexOf(position));
    return html`
      ${RULED.map((hour) => {
        const at = x(instantAt(hour < EVENING ? daysLater(day, 1) : day, hour, roster.zone));
        return html`<line class="axis" x1=${at} x2=${at} y1=${top - 6} y2=${top + lines * BAR} />
            ${index === 0 ? html`<text class="faint" x=${at} y=${TOP - 8} text-anchor="middle">${hour}</text>` : null}`;
      })}
      <text x="0" y=${top + 13} class=${day === week.tonight ? 'tonight' : ''}>${dayName(day)}</text>
      ${stretches.filter(meets).map((stretch) => {
        const { personId, position, swapped } = stretch;
        const name = `${nameOf(personId)}${swapped ? ' ⇄' : ''}`;
        return box(drawn, {
          ...stretch,
          name,
          kind: position === positions[0] ? 'first' : 'next',
          line: lineOf(position),
        });
      })}
      ${flaws.filter(meets).map((flaw) => {
        const gap = flaw.kind === 'gap';
        const line = gap ? 0 : lineOf(flaw.position);
        return box(drawn, { ...flaw, name: gap ? 'nobody' : '', kind: gap ? 'gap' : 'both', line });
      })}
      ${
        from <= now && now < until
          ? html`<line class="now" x1=${x(now)} x2=${x(now)} y1=${top - 7} y2=${top + lines * BAR + 2} />`
          : null
      }
    `;
  }

  return html`<div class="scroll" tabindex="0" role="group" aria-label="The week as a picture; the lines below say the same">
    <svg class="roster" viewBox=${`0 0 ${WIDTH} ${height}`} aria-hidden="true">${week.rows.map(row)}</svg>
  </div>`;
}
