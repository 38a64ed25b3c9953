import { createHash, randomBytes } from 'node:crypto';
import { after } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { SignInRecords } from './records.ts';

/** What a session or a one-time link is known by; 256 bits. */
export function newToken(): string {
  return randomBytes(32).toString('base64url');
}

/** A token as the records keep it. */
export function hashOfToken(token: string): string {
  return createHash('sha256').update(token).digest('base64url');
}

/** Long enough to fetch a coffee, and to find the terminal again the next morning. */
const LINK_LASTS = 'PT24H';

/** A one-time link's path, with which a person sets a password; an earlier one of theirs no longer opens. */
export async function newPasswordLink(records: SignInRecords, personId: number, now: Instant): Promise<string> {
  const token = newToken();
  await records.addPasswordLink({ tokenHash: hashOfToken(token), personId, endsAt: after(now, LINK_LASTS) });
  return `/password/${token}`;
}

/** For the terminal at start: a link for each owner who has no password yet. */
export async function linksForNewOwners(
  records: SignInRecords,
  now: Instant,
): Promise<readonly { readonly name: string; readonly path: string }[]> {
  const links = [];
  for (const { id, name } of await records.ownersWithoutPassword()) {
    links.push({ name, path: await newPasswordLink(records, id, now) });
  }
  return links;
}
