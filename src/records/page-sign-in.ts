import { randomBytes } from 'node:crypto';
import type { SignInRecords } from '../pages/sign-in/records.ts';
import type { Person } from '../roster/roster.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';
import type { OpenRecords } from './open.ts';

/** People who may sign in: those who have not left. */
const activePeople = ({ db }: Handle) =>
  db.selectFrom('people').select(['people.id', 'name', 'phone', 'role']).where('active', '=', 1);

async function secret(handle: Handle): Promise<string> {
  const { db } = handle;
  await db
    .insertInto('page_secret')
    .values({ id: 1, secret: randomBytes(32).toString('base64url') })
    .onConflict((conflict) => conflict.column('id').doNothing())
    .execute();
  return (await db.selectFrom('page_secret').select('secret').executeTakeFirstOrThrow()).secret;
}

async function personOfLink(handle: Handle, tokenHash: string, now: Instant): Promise<Person | null> {
  const person = await activePeople(handle)
    .innerJoin('password_links', 'password_links.person_id', 'people.id')
    .where('token_hash', '=', tokenHash)
    .where('ends_at', '>', now)
    .executeTakeFirst();
  return person ?? null;
}

async function usePasswordLink(handle: Handle, tokenHash: string, hash: string, now: Instant): Promise<Person | null> {
  const { db } = handle;
  const person = await personOfLink(handle, tokenHash, now);
  if (person === null) return null;
  // Deleted before anything else: of two who use it at once, one finds nothing to delete.
  const used = await db
    .deleteFrom('password_links')
    .where('token_hash', '=', tokenHash)
    .returning('person_id')
    .executeTakeFirst();
  if (!used) return null;
  await db
    .insertInto('passwords')
    .values({ person_id: person.id, hash, set_at: now })
    .onConflict((conflict) => conflict.column('person_id').doUpdateSet({ hash, set_at: now }))
    .execute();
  await db.deleteFrom('sessions').where('person_id', '=', person.id).execute();
  return person;
}

async function noteTry({ db }: Handle, account: string, at: Instant, since: Instant): Promise<number> {
  await db.deleteFrom('sign_in_tries').where('at', '<', since).execute();
  await db.insertInto('sign_in_tries').values({ account, at }).execute();
  const rows = await db.selectFrom('sign_in_tries').select('at').where('account', '=', account).execute();
  return rows.length;
}

/** Passwords, sessions and one-time links. */
export function signInRecordsOn(records: OpenRecords): SignInRecords {
  return {
    secret: () => records.onTables(secret),
    account: (phone) =>
      records.viewTables(async (handle) => {
        const row = await activePeople(handle)
          .leftJoin('passwords', 'passwords.person_id', 'people.id')
          .select('hash')
          .where('phone', '=', phone)
          .executeTakeFirst();
        if (!row) return null;
        const { hash, ...person } = row;
        return { person, password: hash };
      }),
    ownersWithoutPassword: () =>
      records.viewTables((handle) =>
        activePeople(handle)
          .leftJoin('passwords', 'passwords.person_id', 'people.id')
          .where('role', '=', 'owner')
          .where('hash', 'is', null)
          .orderBy('people.id')
          .execute(),
      ),
    addPasswordLink: ({ tokenHash, personId, endsAt }) =>
      records.onTables(async ({ db }) => {
        await db.deleteFrom('password_links').where('person_id', '=', personId).execute();
        const columns = { token_hash: tokenHash, person_id: personId, ends_at: endsAt };
        await db.insertInto('password_links').values(columns).execute();
      }),
    passwordLink: (tokenHash, now) => records.viewTables((handle) => personOfLink(handle, tokenHash, now)),
    usePasswordLink: (tokenHash, password, now) =>
      records.onTables((handle) => usePasswordLink(handle, tokenHash, password, now)),
    beginSession: ({ tokenHash, personId, begunAt, endsAt }) =>
      records.onTables(async ({ db }) => {
        await db.deleteFrom('sessions').where('person_id', '=', personId).where('ends_at', '<', begunAt).execute();
        const columns = { token_hash: tokenHash, person_id: personId, begun_at: begunAt, ends_at: endsAt };
        await db.insertInto('sessions').values(columns).execute();
      }),
    session: (tokenHash, now) =>
      records.viewTables(async (handle) => {
        const person = await activePeople(handle)
          .innerJoin('sessions', 'sessions.person_id', 'people.id')
          .where('token_hash', '=', tokenHash)
          .where('ends_at', '>', now)
          .executeTakeFirst();
        return person ?? null;
      }),
    endSession: (tokenHash) =>
      records.onTables(async ({ db }) => {
        await db.deleteFrom('sessions').where('token_hash', '=', tokenHash).execute();
      }),
    endSessionsOf: (personId) =>
      records.onTables(async ({ db }) => {
        await db.deleteFrom('sessions').where('person_id', '=', personId).execute();
      }),
    noteTry: (account, at, since) => records.onTables((handle) => noteTry(handle, account, at, since)),
    forgetTries: (account) =>
      records.onTables(async ({ db }) => {
        await db.deleteFrom('sign_in_tries').where('account', '=', account).execute();
      }),
  };
}
