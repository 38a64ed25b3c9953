import { readFileSync, readdirSync } from 'node:fs';
import { join, normalize } from 'node:path';
import { expect, test } from 'vitest';

/**
 * The line between the rooms, drawn from their imports. Imports point down; what a room may know stands here once, and a
 * line that goes elsewhere fails with its file and number. `types` may be named and nothing more: a shape, no code.
 */
interface Room {
  readonly knows: readonly string[];
  readonly types?: readonly string[];
  /** Packages that may be used here and nowhere else but where they are listed too. */
  readonly packages?: readonly string[];
}

const ROOMS: Readonly<Record<string, Room>> = {
  time: { knows: [], packages: ['temporal-polyfill'] },
  reading: { knows: [], packages: ['yaml'] },
  care: { knows: [] },
  words: { knows: ['reading'], packages: ['yaml'] },
  flow: { knows: ['words', 'care', 'reading'], packages: ['xstate'] },
  roster: { knows: ['time'] },
  // Owners hand it tables and column maps to read.
  desk: { knows: ['words', 'flow', 'care', 'roster', 'time', 'reading'] },
  records: {
    knows: ['time', 'reading'],
    // The pages name the shapes they need of the records, as the desk does.
    types: ['desk', 'roster', 'words', 'pages', 'flow', 'operation'],
    packages: ['kysely', 'pg', 'node:sqlite', 'temporal-polyfill', 'yaml'],
  },
  work: { knows: ['time'], packages: ['bullmq', 'ioredis'] },
  operation: { knows: ['time'], packages: ['prom-client'] },
  carrier: { knows: ['time', 'care', 'reading'], types: ['desk'], packages: ['express', 'twilio', 'saxes'] },
  pages: { knows: ['desk', 'words', 'flow', 'care', 'roster', 'time'], packages: ['express'] },
  // Commands put the desk together for themselves, as `night.ts` does for the program.
  commands: {
    knows: ['desk', 'words', 'flow', 'care', 'roster', 'time', 'records', 'work', 'carrier', 'reading', 'pages', 'top'],
    packages: ['yaml'],
  },
};

/** Files beside the rooms: those that compose know every room; the others what they serve. */
const TOP: Readonly<Record<string, readonly string[]>> = {
  'night.ts': Object.keys(ROOMS).filter((room) => room !== 'commands'),
  'open-records.ts': ['records', 'time'],
  'work-here.ts': ['desk', 'records', 'work', 'time'],
  'start.ts': Object.keys(ROOMS).filter((room) => room !== 'commands'),
  'flow-watch.ts': ['flow', 'reading', 'time'],
  'pages-side.ts': ['desk', 'pages', 'records'],
  'app.ts': ['carrier', 'pages', 'desk', 'time'],
  'settings.ts': ['reading'],
  'server.ts': [],
};

/** Packages with a home: SQL stays in the records, HTTP with the carrier and the pages, the state machine in the flows. */
const AT_HOME = new Set(Object.values(ROOMS).flatMap((room) => room.packages ?? []));
const TOP_PACKAGES = new Set(['express']);
/** No parts of the desk: what it is measured against, with the web and a database in one file; the servers of a trial. */
const NO_DESK = ['commands/bench/bare-handler.ts', 'commands/trials/servers.ts'];

const SOURCE = join(import.meta.dirname, '../src');

interface ImportLine {
  readonly place: string;
  readonly room: string;
  readonly file: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

const STATEMENT = /^(?:import|export)\s(?<type>type\s)?[^;]*?from\s*'(?<from>[^']+)'|^import '(?<bare>[^']+)'/gms;
const DYNAMIC = /\bimport\('(?<from>[^']+)'\)/g;

function importsOf(file: string): readonly ImportLine[] {
  const text = readFileSync(join(SOURCE, file), 'utf8');
  return [...text.matchAll(STATEMENT), ...text.matchAll(DYNAMIC)].map((match) => {
    const { type, from, bare } = match.groups ?? {};
    const line = text.slice(0, match.index).split('\n').length;
    return {
      place: `src/${file}:${line}`,
      room: file.includes('/') ? (file.split('/')[0] ?? '') : 'top',
      file,
      target: from ?? bare ?? '',
      typeOnly: type !== undefined,
    };
  });
}

const ALL = readdirSync(SOURCE, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .flatMap(importsOf);

/** The room an import leads to; "top" for a file beside the rooms, null for a package. */
function roomOf({ file, target }: ImportLine): string | null {
  if (!target.startsWith('.')) return null;
  const path = normalize(join(file, '..', target));
  return path.includes('/') ? (path.split('/')[0] ?? '') : 'top';
}

function packageOf(target: string): string {
  return target
    .split('/')
    .slice(0, target.startsWith('@') ? 2 : 1)
    .join('/');
}

function mayKnow(line: ImportLine, room: string): boolean {
  if (line.room === 'top') return room === 'top' || (TOP[line.file] ?? []).includes(room);
  const { knows = [], types = [] } = ROOMS[line.room] ?? {};
  return room === line.room || knows.includes(room) || (line.typeOnly && types.includes(room));
}

test('every room and every file beside the rooms is one of the house', () => {
  const rooms = new Set(ALL.map((line) => line.room).filter((room) => room !== 'top'));
  expect([...rooms].filter((room) => !(room in ROOMS))).toEqual([]);
  const files = new Set(ALL.filter((line) => line.room === 'top').map((line) => line.file));
  expect([...files].filter((file) => !(file in TOP))).toEqual([]);
  expect(ALL.length).toBeGreaterThan(200);
});

test('imports point down, from each room only to those that it may know', () => {
  const wrong = ALL.flatMap((line) => {
    const room = roomOf(line);
    return room === null || mayKnow(line, room) ? [] : [`${line.place}: ${line.room} may not know ${line.target}`];
  });
  expect(wrong).toEqual([]);
});

test('packages with a home are used there and nowhere else', () => {
  const wrong = ALL.flatMap((line) => {
    const name = packageOf(line.target);
    const here = line.room === 'top' ? TOP_PACKAGES : new Set(ROOMS[line.room]?.packages);
    return !AT_HOME.has(name) || here.has(name) || NO_DESK.includes(line.file)
      ? []
      : [`${line.place}: ${line.room} may not use ${name}`];
  });
  expect(wrong).toEqual([]);
});

test('the core asks no clock, no disk and no network', () => {
  const core = ['time', 'care', 'words', 'flow', 'roster', 'desk'];
  // Words and flows are read from files by these, which hand on values; measuring reads the labelled messages.
  const readers =
    /^(words\/(load|known-words)\.ts|words\/measuring\/.*|words\/second\/(lessons|reader|topic-weights|train)\.ts|flow\/load\.ts)$/;
  const wrong = ALL.filter(
    ({ room, file, target }) => core.includes(room) && !readers.test(file) && /^node:(?!path|url|crypto)/.test(target),
  );
  expect(wrong.map((line) => `${line.place}: ${line.target}`)).toEqual([]);
  const clocks = readdirSync(SOURCE, { recursive: true, encoding: 'utf8' })
    .filter((file) => core.includes(file.split('/')[0] ?? '') && file.endsWith('.ts'))
    .filter((file) => /\bDate\.now\(|new Date\(\)|Temporal\.Now/.test(readFileSync(join(SOURCE, file), 'utf8')));
  expect(clocks).toEqual([]);
});
