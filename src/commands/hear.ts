import { enableCompileCache } from 'node:module';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

// Compiled code is kept between runs; what is imported after this comes from there, which halves the start.
enableCompileCache();
const { hearLine } = await import('../words/lines.ts');
const { loadHearingLazily } = await import('../words/load.ts');

const USAGE = `hear: what the desk makes of a text

  npm run -s hear -- "words of a guest" [--lang en|es] [--asked KIND] [--choices a,b,c] [--now TIME]
  npm run -s hear -- --jsonl < texts.jsonl        one JSON object a line in, one out
  npm run -s hear -- --measure                    the goals' table on the kept-aside messages; exit 1 below goal
  npm run -s hear -- --measure --set tuning [--misses]
`;
/** Answers written at once; keeps a large input from waiting on one write a line. */
const LINES_AT_ONCE = 500;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    jsonl: { type: 'boolean' },
    measure: { type: 'boolean' },
    set: { type: 'string', default: 'kept-aside' },
    misses: { type: 'boolean' },
    lang: { type: 'string' },
    asked: { type: 'string' },
    choices: { type: 'string' },
    now: { type: 'string' },
    help: { type: 'boolean' },
  },
});

if (values.jsonl === true) await hearLines();
else if (values.measure === true) await measure();
else if (positionals.length > 0 && values.help !== true) hearWords(positionals.join(' '));
else console.log(USAGE);

async function hearLines(): Promise<void> {
  const hear = loadHearingLazily();
  let waiting: string[] = [];
  const flush = (): void => {
    if (waiting.length > 0) process.stdout.write(`${waiting.join('\n')}\n`);
    waiting = [];
  };
  for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
    if (line.trim() === '') continue;
    const { out, ok } = hearLine(line, hear);
    if (!ok) process.exitCode = 1;
    waiting.push(out);
    if (waiting.length >= LINES_AT_ONCE) flush();
  }
  flush();
}

function hearWords(text: string): void {
  const { out, ok } = hearLine(
    JSON.stringify({
      id: 'words',
      text,
      ...(values.lang === undefined ? {} : { lang: values.lang }),
      ...(values.asked === undefined ? {} : { asked: values.asked }),
      ...(values.choices === undefined ? {} : { choices: values.choices.split(',') }),
      ...(values.now === undefined ? {} : { now: values.now }),
    }),
    loadHearingLazily(),
  );
  const heard = JSON.parse(out) as Record<string, string | number | null | string[]>;
  if (!ok) {
    console.error(String(heard['error']));
    process.exitCode = 1;
    return;
  }
  for (const name of ['danger', 'signs', 'topic', 'answer', 'lang', 'why']) {
    const value = heard[name];
    const shown = Array.isArray(value) ? value.join(' | ') : String(value ?? '-');
    console.log(`${name.padEnd(8)}${shown === '' ? '-' : shown}`);
  }
}

async function measure(): Promise<void> {
  // Only measuring needs the labelled texts and the corpus; the other ways to hear start faster without.
  const { measureSet } = await import('../words/measuring/measure.ts');
  const fixtures = fileURLToPath(new URL('../../fixtures/messages', import.meta.url));
  const { report, met } = measureSet(fixtures, values.set, values.misses === true, loadHearingLazily());
  console.log(report);
  if (!met) process.exitCode = 1;
}
