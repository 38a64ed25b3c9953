import { enableCompileCache } from 'node:module';

/**
 * `npm start`: the desk with its web side and its work. `npm run start:web`, `start:work`: one of several processes that share
 * both.
 *
 * Compiled code is kept between runs, which halves the start. This file is JavaScript so that Node's compiler of types, 15 MB,
 * is not loaded where everything that is imported after this comes from there.
 */
enableCompileCache();
const { run } = await import('./start.ts');
await run(process.argv.slice(2));
