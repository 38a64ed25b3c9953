import { Migrator } from 'kysely/migration';
import { sql } from 'kysely';
import type { Engine } from './engine.ts';
import { RecordsError } from './errors.ts';
import { placesAndStays } from './migrations/0001-places-and-stays.ts';
import { people } from './migrations/0002-people.ts';
import { conversations } from './migrations/0003-conversations.ts';
import { calloutsAndWork } from './migrations/0004-callouts-and-work.ts';
import { rosterChanges } from './migrations/0005-roster-changes.ts';
import { calloutsOfMany } from './migrations/0006-callouts-of-many.ts';
import { sending } from './migrations/0007-sending.ts';
import { pages } from './migrations/0008-pages.ts';
import { told } from './migrations/0009-told.ts';
import { learned } from './migrations/0010-learned.ts';
import { voice } from './migrations/0011-voice.ts';
import { bursts } from './migrations/0012-bursts.ts';
import { setBacks } from './migrations/0013-set-backs.ts';
import type { Statements } from './migrations/statements.ts';

/** In order; what has once been released is never edited, only added to. */
const MIGRATIONS: Readonly<Record<string, Statements>> = {
  '0001-places-and-stays': placesAndStays,
  '0002-people': people,
  '0003-conversations': conversations,
  '0004-callouts-and-work': calloutsAndWork,
  '0005-roster-changes': rosterChanges,
  '0006-callouts-of-many': calloutsOfMany,
  '0007-sending': sending,
  '0008-pages': pages,
  '0009-told': told,
  '0010-learned': learned,
  '0011-voice': voice,
  '0012-bursts': bursts,
  '0013-set-backs': setBacks,
};

/**
 * Runs the migrations that have not run yet, all of them or none. Safe from several processes at once.
 * @throws RecordsError when the tables were made by a newer Nightbell.
 */
export async function migrate(engine: Engine): Promise<void> {
  const provider = {
    getMigrations: async () =>
      Object.fromEntries(
        Object.entries(MIGRATIONS).map(([name, statements]) => [
          name,
          {
            up: async (db: Engine['writer']) => {
              for (const statement of statements(engine.kind)) await sql.raw(statement).execute(db);
            },
          },
        ]),
      ),
  };
  const { error } = await new Migrator({ db: engine.writer, provider }).migrateToLatest();
  if (error === undefined) return;
  const foreign = (await migrationsRun(engine)).filter((name) => !(name in MIGRATIONS));
  if (foreign.length === 0) throw error;
  throw new RecordsError(
    `Records: ${engine.place} has the migrations ${foreign.join(', ')}, which this Nightbell does not know: ` +
      'a newer one made them. Update Nightbell, or name other records in the settings.',
    { cause: error },
  );
}

/** Names of the migrations that have run; none where they cannot be read. */
async function migrationsRun(engine: Engine): Promise<readonly string[]> {
  try {
    const { rows } = await sql<{ name: string }>`select name from kysely_migration`.execute(engine.writer);
    return rows.map((row) => row.name);
  } catch {
    return []; // the migration's own error says why
  }
}
