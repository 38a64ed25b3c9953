import type { PageDesk } from '../desk/page-desk.ts';
import type { OwnerLists } from '../desk/lists/lists.ts';
import type { ToldRecords } from '../desk/told/import.ts';
import type { Person } from '../roster/roster.ts';
import type { Instant } from '../time/instant.ts';
import type { Answer } from './answer.ts';
import type { DemoPhones } from './demo/phones.ts';
import type { FlowChecks } from './flows/checks.ts';
import type { FlowsAsDrawn } from './flows/drawn.ts';
import type { PageRecords } from './records.ts';
import type { Seal } from './seal.ts';
import type { SignInRecords } from './sign-in/records.ts';

/** What the pages stand among. */
export interface PagesSide {
  readonly desk: PageDesk;
  readonly records: PageRecords;
  readonly signIn: SignInRecords;
  /** Rentals and places, as forms tell them. */
  readonly told: ToldRecords;
  /** What the desk has learned up to now. */
  readonly lists: () => OwnerLists;
  /** What the carrier takes for a text part, in cents; null where it is not set. */
  readonly centsAPart: number | null;
  readonly checks: FlowChecks;
  readonly outfit: { readonly name: string; readonly directNumber: string; readonly zone: string };
  /** No slash at its end. Over https, cookies are for https alone. */
  readonly publicUrl: string;
  readonly now: () => Instant;
  /** The phones of the demo; null once a real carrier is set, and then its pages do not exist. */
  readonly demo: DemoPhones | null;
  readonly note: (event: string, details: Readonly<Record<string, unknown>>) => void;
}

/** One request, as the pages see it. */
export interface Visit {
  readonly side: PagesSide;
  readonly seal: Seal;
  readonly drawn: FlowsAsDrawn;
  /** Who is signed in. */
  readonly person: Person | null;
  /** The hash of their session's token. */
  readonly session: string | null;
  /** What their browser shows to be known by; '' when it shows nothing. */
  readonly browser: string;
  /** What a form on the page must send back. */
  readonly formToken: string;
  readonly path: string;
  readonly params: Readonly<Record<string, string>>;
  readonly query: URLSearchParams;
  readonly form: URLSearchParams;
  readonly now: Instant;
}

/**
 * Who may come: `anyone`; whoever holds a callout's `link`; people who are signed in, by what they are. A page of the
 * `demo` is for anyone at this machine, and is there in the demo only.
 */
export type Admitted = 'anyone' | 'link' | 'demo' | 'technician' | 'owner';

export interface Route {
  readonly method: 'get' | 'post';
  readonly path: string;
  readonly who: readonly Admitted[];
  readonly answer: (visit: Visit) => Promise<Answer>;
}

/** There is nothing here that this visitor may see: the address is wrong, or names what is gone. */
export class NothingHere extends Error {
  override readonly name = 'NothingHere';
}

/** The person of a page that is for people who are signed in. */
export function signedIn(visit: Visit): Person {
  if (visit.person === null) throw new NothingHere(`${visit.path} was reached without a person`);
  return visit.person;
}

/** The row that a part of the address names. @throws NothingHere when it was not sealed here. */
export function rowOf(visit: Visit, kind: Parameters<Seal['open']>[0], param = 'id'): number {
  const id = visit.seal.open(kind, visit.params[param] ?? '');
  if (id === null) throw new NothingHere(`no ${kind} of that name`);
  return id;
}
