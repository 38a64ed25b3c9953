import { setTimeout as pause } from 'node:timers/promises';
import type { Chance } from '../trials/chance.ts';
import { isInDanger, phoneOfGuest, scriptOf } from '../trials/guests.ts';
import { PEOPLE } from '../trials/outfit.ts';
import type { Company } from './company.ts';

/** Between a reply and the next text of the same guest. */
const THINKS_MS = { least: 40, spread: 250 } as const;

/** A night worse than any, so that callouts are under way whatever is done to the desk. */
const ONE_IN_DANGER_OF = 8;

/** Guests who write all at once, each waiting for a reply before the next text, until they are told that it is enough. */
export async function guestsWrite(
  company: Company,
  chance: Chance,
  count: number,
  enough: () => boolean,
): Promise<void> {
  let next = 0;
  async function one(): Promise<void> {
    while (!enough()) {
      const guest = next;
      next += 1;
      const danger = isInDanger(guest, ONE_IN_DANGER_OF);
      for (const [index, words] of scriptOf(guest, ONE_IN_DANGER_OF).entries()) {
        await company.bring({ from: phoneOfGuest(guest), who: 'guest', danger: danger && index === 0, words });
        await pause(THINKS_MS.least + chance.below(THINKS_MS.spread));
      }
    }
  }
  await Promise.all(Array.from({ length: count }, one));
}

const TAKES_ONE_OF = 2;

/** Technicians: every second callout that they are texted about is taken, and some are done a little later. */
export function techniciansAnswer(company: Company, chance: Chance): void {
  const seen = new Set<string>();
  company.onText(async (to, body) => {
    const callout = /Reply TAKE (\d+)/.exec(body)?.[1];
    if (callout === undefined || (to !== PEOPLE.first && to !== PEOPLE.second) || seen.has(callout)) return;
    seen.add(callout);
    if (chance.below(TAKES_ONE_OF) > 0) return;
    const say = (words: string) => company.bring({ from: to, who: 'technician', danger: false, words });
    await pause(300 + chance.below(2_000));
    await say(`TAKE ${callout}`);
    await pause(300 + chance.below(2_000));
    if (chance.below(2) === 0) await say(`DONE ${callout} moved it to another outlet`);
  });
}
