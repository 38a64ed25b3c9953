// Runs after `npm ci`, under whatever Node npm itself uses. `.bin/node` comes from the optional packages and is first in
// the PATH of every script; only a platform without such a package and with an old Node of its own must stop here.
import { execFileSync } from 'node:child_process';

const NEEDED_MAJOR = 24;
const version = execFileSync('node', ['--version'], { encoding: 'utf8' }).trim();
if (Number(version.slice(1).split('.')[0]) < NEEDED_MAJOR) {
  console.error(
    `nightbell: scripts here would run on Node ${version}; Node ${NEEDED_MAJOR} or newer is needed. ` +
      `Install it from your system's packages (or let npm install optional dependencies) and run npm ci again.`,
  );
  process.exit(1);
}
