import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { SWAP_NIGHTS_AHEAD } from '../../desk/callout/roster-change.ts';
import { whoIsOnCall } from '../../roster/on-call.ts';
import type { Person, Roster } from '../../roster/roster.ts';
import { daysLater, instantAt } from '../../time/calendar.ts';
import type { Day } from '../../time/calendar.ts';
import { tokenField } from '../layout.ts';
import { signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';

/** What a form names that gives everyone their own place again. */
export const NOBODY = 'nobody';

export interface Pair {
  readonly first: Person;
  readonly other: Person;
}

/** Whether a night can still be swapped here. */
export function canBeSwapped(day: Day, tonight: Day): boolean {
  return day >= tonight && day <= daysLater(tonight, SWAP_NIGHTS_AHEAD);
}

/** Who may take whose place in a night: someone who is on, and anyone else; for a technician only with themselves in it. */
export function pairsOf(roster: Roster, day: Day, asking: Person): readonly Pair[] {
  const on = whoIsOnCall(roster, instantAt(day, '23:59', roster.zone));
  const all = [...on, ...roster.people.filter((person) => !on.some(({ id }) => id === person.id))];
  return on.flatMap((one, index) =>
    all
      .slice(index + 1)
      .filter((other) => asking.role === 'owner' || [one.id, other.id].includes(asking.id))
      // A technician gives their own place away; the pair is the same either way round.
      .map((other): Pair =>
        asking.role !== 'owner' && other.id === asking.id ? { first: other, other: one } : { first: one, other },
      ),
  );
}

/** The swaps of a night in words. */
export function swapWords({ swaps, people }: Roster, day: Day): readonly string[] {
  const nameOf = (id: number): string => people.find((person) => person.id === id)?.name ?? 'someone who left';
  return swaps
    .filter((swap) => swap.day === day)
    .map(({ personId, withId }) => `${nameOf(personId)} and ${nameOf(withId)} have swapped places.`);
}

/** The second tap: a button for each pair, and one that gives everyone their own place again. */
export function swapForms(visit: Visit, roster: Roster, { day, first: from }: { day: Day; first: Day }): VNode {
  const { seal, formToken } = visit;
  const asking = signedIn(visit);
  const swaps = roster.swaps.filter((swap) => swap.day === day);
  const mayUndo =
    asking.role === 'owner' || swaps.some(({ personId, withId }) => [personId, withId].includes(asking.id));
  const form = (first: Person, other: Person | null, words: string, kind: string): VNode => html`<form
    method="post"
    action="/roster/swap"
  >
    ${tokenField(formToken)}
    <input type="hidden" name="night" value=${day} />
    <input type="hidden" name="from" value=${from} />
    <input type="hidden" name="person" value=${seal.id('person', first.id)} />
    <input type="hidden" name="with" value=${other === null ? NOBODY : seal.id('person', other.id)} />
    <button class=${kind}>${words}</button>
  </form>`;
  return html`<div class="taps">
    ${pairsOf(roster, day, asking).map(({ first, other }) => form(first, other, `${first.name} ⇄ ${other.name}`, ''))}
    ${swaps.length > 0 && mayUndo ? form(asking, null, 'Undo the swaps of this night', 'second') : null}
    <p class="faint">They take each other’s place in this one night. Those concerned get a text.</p>
  </div>`;
}
