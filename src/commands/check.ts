import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { chartOf } from '../flow/chart.ts';
import { checkFlows } from '../flow/check.ts';
import { unreviewed } from '../flow/book.ts';
import { FLOWS_DIRECTORY, loadBook } from '../flow/load.ts';
import type { ReadFlowBook } from '../flow/placed-book.ts';
import { ProblemsError } from '../reading/yaml.ts';
import { LANGUAGES } from '../words/heard.ts';

const USAGE = `npm run check -- [--draw DIR] [FLOWS]
Reads all flows, walks every state of them, and says what is wrong.
  --draw DIR  writes a chart of each flow, per language, as SVG instead`;

function check(read: ReadFlowBook): number {
  const { findings, steps, passages } = checkFlows(read);
  for (const { rule, where, message, path } of findings) {
    console.log(`${where}: ${rule}: ${message}`);
    if (path.length > 0) console.log(`    path: ${path.join(' > ')}`);
  }
  for (const file of unreviewed(read.book)) {
    console.log(`${file}: not reviewed yet. It needs the sign-off of a licensed clinician of the operator.`);
  }
  console.log(`${read.flows.length} flows, ${steps} steps, ${passages} turns walked: ${findings.length} findings`);
  return findings.length === 0 ? 0 : 1;
}

async function draw(read: ReadFlowBook, folder: string): Promise<number> {
  // A graph layout compiled to WebAssembly: loaded only where charts are drawn.
  const { instance } = await import('@viz-js/viz');
  const viz = await instance();
  mkdirSync(folder, { recursive: true });
  for (const { value: flow } of read.flows) {
    for (const lang of LANGUAGES) {
      const svg = viz.renderString(chartOf(read.book, flow, lang), { format: 'svg' });
      writeFileSync(join(folder, `${flow.flow}.${lang}.svg`), svg);
    }
  }
  console.log(`${read.flows.length} flows drawn in ${LANGUAGES.join(' and ')}, in ${folder}`);
  return 0;
}

async function run(): Promise<number> {
  const options = { draw: { type: 'string' }, help: { type: 'boolean' } } as const;
  const { values, positionals } = parseArgs({ allowPositionals: true, options });
  if (values.help === true) {
    console.log(USAGE);
    return 0;
  }
  const read = loadBook(positionals[0] ?? FLOWS_DIRECTORY);
  return values.draw === undefined ? check(read) : draw(read, values.draw);
}

try {
  process.exitCode = await run();
} catch (error) {
  if (!(error instanceof ProblemsError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
