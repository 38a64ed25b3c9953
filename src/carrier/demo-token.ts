import { randomBytes } from 'node:crypto';
import { linkSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const fileIn = (dataDir: string): string => join(dataDir, 'demo-carrier-token');

/** The token with which the demo's texts are signed; null until the demo has been started once. */
export function demoToken(dataDir: string): string | null {
  try {
    return readFileSync(fileIn(dataDir), 'utf8').trim() || null;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/**
 * The same, made now when there is none yet. It is random and readable by this user alone, so that nobody else on the
 * network can sign for the demo's guests.
 * @throws Error of the file system when the folder cannot be written.
 */
export function makeDemoToken(dataDir: string): string {
  const present = demoToken(dataDir);
  if (present !== null) return present;
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
  const token = randomBytes(16).toString('hex');
  const own = `${fileIn(dataDir)}.${process.pid}`;
  writeFileSync(own, `${token}\n`, { mode: 0o600 });
  try {
    // Whole or not at all: of processes that start together one makes it, and the others take it.
    linkSync(own, fileIn(dataDir));
    return token;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    return makeDemoToken(dataDir);
  } finally {
    rmSync(own);
  }
}
