import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { outletToTell } from '../../care/outlets.ts';
import type { OutletBelief } from '../../care/outlets.ts';
import { OTHER_WALL, beliefsAt } from '../../desk/guest/outlets.ts';
import { sayOutlet } from '../../flow/say.ts';
import type { RoomHistory } from '../records.ts';
import type { Visit } from '../visit.ts';

function ago(days: number): string {
  const whole = Math.floor(days);
  return whole === 0 ? 'today' : whole === 1 ? 'yesterday' : `${whole} days ago`;
}

/** Each outlet of a room that guests told of, the surest first, and which the next guest is sent to. */
export function outletsKnown({ side, now }: Visit, { outlets }: RoomHistory): VNode {
  const beliefs = beliefsAt(outlets, now);
  const told = outletToTell(beliefs, OTHER_WALL);
  const where = (place: string): string => sayOutlet(side.desk.book(), place, 'en') ?? place;
  if (beliefs.length === 0) return html`<p>Nothing yet: no guest has told of an outlet here.</p>`;
  const row = ({ place, worked, failed, ageDays, sure }: OutletBelief): VNode =>
    html`<tr>
      <td>${where(place)}</td>
      <td class="figure">${worked}</td>
      <td class="figure">${failed}</td>
      <td>${ago(ageDays)}</td>
      <td class="figure">${Math.round(sure * 100)}%</td>
    </tr>`;
  return html`<p>
      ${
        told === null
          ? 'None is sure enough to send the next guest there.'
          : html`The next guest whose unit is silent is sent to the outlet <strong>${where(told)}</strong>.`
      }
    </p>
    <table>
      <thead>
        <tr>
          <th scope="col">Outlet</th>
          <th scope="col" class="figure">Worked</th>
          <th scope="col" class="figure">Did not</th>
          <th scope="col">Last told</th>
          <th scope="col" class="figure">How sure</th>
        </tr>
      </thead>
      <tbody>
        ${beliefs.map(row)}
      </tbody>
    </table>`;
}
