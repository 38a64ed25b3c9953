import { mkdirSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { Kysely, SqliteAdapter, SqliteDialect, SqliteQueryCompiler } from 'kysely';
import type { SqliteDatabase, SqliteStatement } from 'kysely';
import type { Engine, OnWork } from './engine.ts';
import type { Tables } from './schema.ts';
import { Blank, keepable } from './values.ts';

/** How long a statement waits for another process that has the file, in milliseconds. The whole process waits with it. */
const BUSY_TIMEOUT_MS = 1000;
/** Statements kept compiled; the desk has about a hundred shapes. */
const STATEMENTS_KEPT = 400;

/** Of the file, in memory: SQLite's own 2 MB hold less than what a busy night touches. */
const PAGES_KEPT_KB = 16_384;

type Bound = string | number | bigint | null;

/** `node:sqlite` in the shape in which Kysely wants a SQLite database. `begin` is what opens a transaction. */
function kyselyDatabase(database: DatabaseSync, begin: 'begin' | 'begin immediate'): SqliteDatabase {
  const statements = new Map<string, SqliteStatement>();
  let begun = false;

  function compile(sql: string): SqliteStatement {
    const statement = database.prepare(sql === 'begin' ? begin : sql);
    return {
      reader: statement.columns().length > 0,
      all: (values) => statement.all(...(values as Bound[])),
      run: (values) => statement.run(...(values as Bound[])),
      iterate: (values) => statement.iterate(...(values as Bound[])),
    };
  }

  return {
    close: () => database.close(),
    prepare(sql) {
      const opens = sql === 'begin';
      const gives = sql === 'rollback';
      // A full disk rolls the whole transaction back by itself. Statements after that would each be committed alone.
      if (begun && !database.isTransaction && !opens && !gives) {
        throw new Error('SQLite has rolled this transaction back after an error; nothing more can be written in it.');
      }
      if (opens || gives || sql === 'commit') begun = opens;
      let statement = statements.get(sql);
      if (!statement) {
        if (statements.size >= STATEMENTS_KEPT) statements.clear();
        statement = compile(sql);
        statements.set(sql, statement);
      }
      return statement;
    },
  };
}

class KeepableCompiler extends SqliteQueryCompiler {
  protected override addParameter(parameter: unknown): void {
    super.addParameter(parameter instanceof Blank ? parameter : keepable(parameter));
  }
}

/** Lets a migration be whole or not at all, which SQLite can do though Kysely does not ask it to. */
class WholeMigrations extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

class NodeSqliteDialect extends SqliteDialect {
  override createQueryCompiler(): SqliteQueryCompiler {
    return new KeepableCompiler();
  }
  override createAdapter(): SqliteAdapter {
    return new WholeMigrations();
  }
}

/**
 * Records in one SQLite file, which is made with its folder where it is missing. Opens at the first query: one
 * connection that writes, one that can only read.
 */
export function sqliteEngine(sqliteFile: string, onWork: OnWork = () => {}): Engine {
  const file = resolve(sqliteFile);
  const openWriter = async (): Promise<SqliteDatabase> => {
    mkdirSync(dirname(file), { recursive: true });
    const database = new DatabaseSync(file, { enableForeignKeyConstraints: true, timeout: BUSY_TIMEOUT_MS });
    // FULL: an answered text survives a power cut, at one disk flush a commit.
    // What is deleted or forgotten is overwritten, not only let go.
    database.exec('pragma journal_mode = wal; pragma synchronous = full; pragma secure_delete = on');
    database.exec(`pragma cache_size = -${PAGES_KEPT_KB}`);
    return kyselyDatabase(database, 'begin immediate');
  };
  const openReader = async (): Promise<SqliteDatabase> =>
    kyselyDatabase(new DatabaseSync(file, { readOnly: true, timeout: BUSY_TIMEOUT_MS }), 'begin');
  return {
    kind: 'sqlite',
    place: `the SQLite file ${file}`,
    writer: new Kysely<Tables>({ dialect: new NodeSqliteDialect({ database: openWriter }) }),
    reader: new Kysely<Tables>({ dialect: new NodeSqliteDialect({ database: openReader }) }),
    onWork,
  };
}
