import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { deserialize, serialize } from 'node:v8';

/** Beside the packages: written by whoever installed them, and gone with them. */
const KEPT = fileURLToPath(new URL('../../node_modules/.cache/nightbell', import.meta.url));
const INSTALLED = fileURLToPath(new URL('../../node_modules/.package-lock.json', import.meta.url));
const ROOMS = fileURLToPath(new URL('..', import.meta.url));

/** What a kept value was made of. */
export interface Origins {
  readonly sources: readonly string[];
  /** The rooms of `src/` whose code made it; this room is always one of them. */
  readonly rooms: readonly string[];
}

/**
 * What `make` makes of its sources, kept between runs: compiling the words takes half a second and leaves eighty megabytes
 * behind, reading what was compiled takes a twentieth of either. Whatever goes into it (the sources, the code, the packages
 * installed, Node) is in the name of the file, so nothing stale is ever read.
 *
 * @param name  what it is; one value is kept for each
 * @param make  makes a value of plain data (no functions), which is all that a file can hold
 */
export function kept<T>(name: string, origins: Origins, make: () => T): T {
  const file = `${name}-${fingerprint(origins)}`;
  const known = readKept(join(KEPT, file));
  if (known !== undefined) return known as T;
  const made = make();
  keep(name, file, made);
  return made;
}

function fingerprint({ sources, rooms }: Origins): string {
  const hash = createHash('sha256').update(process.version).update(readText(INSTALLED));
  for (const room of ['reading', ...rooms]) {
    for (const file of readdirSync(join(ROOMS, room)).toSorted()) {
      if (file.endsWith('.ts')) hash.update(readText(join(ROOMS, room, file)));
    }
  }
  for (const source of sources) hash.update(`${source.length} `).update(source);
  return hash.digest('hex').slice(0, 32);
}

function readText(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}

function readKept(path: string): unknown {
  try {
    return deserialize(readFileSync(path));
  } catch {
    // Not there yet, or cut short by a crash: made anew.
    return undefined;
  }
}

function keep(name: string, file: string, value: unknown): void {
  const written = join(KEPT, `${file}.${process.pid}`);
  try {
    mkdirSync(KEPT, { recursive: true });
    writeFileSync(written, serialize(value));
    for (const old of readdirSync(KEPT))
      if (old.startsWith(`${name}-`) && !old.startsWith(file)) rmSync(join(KEPT, old));
    renameSync(written, join(KEPT, file));
  } catch {
    // A folder that cannot be written to only costs the time again.
    rmSync(written, { force: true });
  }
}
