import { enableCompileCache } from 'node:module';
import type { Role } from './settings.ts';

/**
 * `npm start`: the desk with its web side and its work. `npm run start:web`, `start:work`: one of several processes that share
 * both.
 */

// Compiled code is kept between runs; what is imported after this comes from there, which halves the start.
enableCompileCache();
const { start } = await import('./start.ts');
const { SettingsError } = await import('./settings.ts');

const ROLES: Readonly<Record<string, Role>> = { web: 'web', work: 'work' };

try {
  const [asked] = process.argv.slice(2);
  const role = asked === undefined ? 'both' : ROLES[asked];
  if (role === undefined) throw new Error(`main.ts takes web, work or nothing; not "${asked}".`);
  await start(role);
} catch (error) {
  // Problems with settings, flows, records and the port say in their message what to do; a stack would hide it.
  console.error(error instanceof Error ? error.message : error);
  if (!(error instanceof SettingsError)) console.error('Nightbell did not start.');
  process.exitCode = 1;
}
