import { afterEach, beforeEach, describe } from 'vitest';
import { openRecords } from '../../src/records/open.ts';
import type { OpenRecords } from '../../src/records/open.ts';
import { callouts } from './contract/callouts.ts';
import { incomingCalls } from './contract/incoming-calls.ts';
import { learned } from './contract/learned.ts';
import { pages } from './contract/pages.ts';
import { places } from './contract/places-and-people.ts';
import { sending } from './contract/sending.ts';
import { sharedCallouts } from './contract/shared-callouts.ts';
import { sharedCommits } from './contract/shared-commits.ts';
import { keeping } from './contract/keeping.ts';
import { texts } from './contract/texts.ts';
import { told } from './contract/told.ts';
import { work } from './contract/work.ts';
import { POSTGRES_MISSING, POSTGRES_TITLE, postgresDatabase, freshSqlite } from './places.ts';
import type { FreshPlace } from './places.ts';

/** What the desk counts on, the same on both kinds of records; each check has records of its own, made from empty. */
function contract(fresh: () => Promise<FreshPlace>): void {
  let place: FreshPlace;
  let records: OpenRecords;
  beforeEach(async () => {
    place = await fresh();
    records = await openRecords(place.settings);
  });
  afterEach(async () => {
    await records.close();
    await place.remove();
  });
  for (const suite of [
    texts,
    places,
    callouts,
    sharedCallouts,
    work,
    sending,
    sharedCommits,
    told,
    learned,
    keeping,
    incomingCalls,
    pages,
  ])
    suite(() => records);
}

describe('records on SQLite', () => contract(freshSqlite));
describe.skipIf(POSTGRES_MISSING !== null)(`records ${POSTGRES_TITLE}`, () => contract(postgresDatabase()));
