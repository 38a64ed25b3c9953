import type { Person } from '../../roster/roster.ts';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Callout, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Where a technician's page of a callout is: this and the token. Short, for it stands in a text. */
export const CALLOUT_PATH = '/c/';
/** How long a link opens, counted from the last text that carried it: a long night and the morning after. */
const LASTS = 'PT16H';
/** As many as `linkToCallout` gives. */
const TOKEN_CHARACTERS = 16;

/** The address under which a person finds a callout without a password; null where the desk has no pages. */
export async function linkFor(
  { pagesUrl }: Surroundings,
  tx: Tx,
  callout: Callout,
  person: Person,
  now: Instant,
): Promise<string | null> {
  if (pagesUrl === null) return null;
  const wanted = { calloutId: callout.id, personId: person.id, now, until: after(now, LASTS) };
  return `${pagesUrl}${CALLOUT_PATH}${await tx.linkToCallout(wanted)}`;
}

/** What follows the brief in a text. */
export function wordsAround(calloutId: number, link: string | null): string {
  return ` Reply TAKE ${calloutId} or PASS ${calloutId}.${link === null ? '' : ` ${link}`}`;
}

/** How many characters the brief has to leave free; undefined where only the words to reply follow. */
export function charactersAround({ pagesUrl }: Surroundings, calloutId: number): number | undefined {
  if (pagesUrl === null) return undefined;
  return wordsAround(calloutId, `${pagesUrl}${CALLOUT_PATH}`).length + TOKEN_CHARACTERS;
}
