import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { loadBook } from '../../src/flow/load.ts';
import { readBook } from '../../src/flow/read-book.ts';
import type { FlowFile } from '../../src/flow/read-book.ts';
import { sayProblem } from '../../src/reading/yaml.ts';
import { lampFiles } from './lamp-book.ts';
import type { Change } from './lamp-book.ts';

function problemsOf(files: readonly FlowFile[]): string[] {
  const reading = readBook(files);
  return reading.ok ? [] : reading.problems.map(sayProblem);
}

/** "lamp.yaml:12:7" of the first place where the words stand in the changed file. */
function placeOf(files: readonly FlowFile[], file: string, words: string): string {
  const text = files.find((each) => each.file === file)?.text ?? '';
  const before = text.slice(0, text.indexOf(words)).split('\n');
  return `${file}:${before.length}:${(before.at(-1)?.length ?? 0) + 1}`;
}

interface Broken {
  readonly what: string;
  readonly change: Change;
  /** What stands at the place that is named. */
  readonly at: string;
  /** What is said there: what came, what is allowed. */
  readonly says: RegExp;
}

const lamp = (from: string, to: string): Change => ({ file: 'lamp.yaml', from, to });

const BROKEN: readonly Broken[] = [
  {
    what: 'a step that is not there',
    change: lamp('"no": set-it', '"no": set-itt'),
    at: 'set-itt',
    says: /no step "set-itt"; the steps of this flow are is-it-on, set-it, good/,
  },
  {
    what: 'a step of another flow that is not there',
    change: lamp('unsure: person.hand-over', 'unsure: person.nobody'),
    at: 'person.nobody',
    says: /no step "person.nobody"/,
  },
  {
    what: 'a topic that opens a step that is not there',
    change: lamp('no-power: is-it-on', 'no-power: is-it-off'),
    at: 'is-it-off',
    says: /no step "is-it-off" to open with/,
  },
  {
    what: 'a misspelled key',
    change: lamp('    end: settled', '    ends: settled'),
    at: 'ends: settled',
    says: /"ends" is not a key that may stand here; take it out or correct its spelling/,
  },
  {
    what: 'a missing language',
    change: lamp('      es: "Bien. Escriba cuando guste."\n', ''),
    at: 'en: "Good.',
    says: /steps > good > tell > es: .*expected string/i,
  },
  {
    what: 'an answer that is no value of the kind',
    change: lamp('      "yes": good', '      "yess": good'),
    at: 'good\n',
    says: /"yess" is no answer of yes-no; allowed: yes, no, unsure, miss/,
  },
  {
    what: 'an answer without a way on',
    change: lamp('      "no": set-it\n', ''),
    at: '"yes": good\n      unsure',
    says: /no way on for the answer "no" of yes-no; add it under "go"/,
  },
  {
    what: 'a kind of answer that nobody hears',
    change: lamp('hears: yes-no', 'hears: yes-or-no'),
    at: 'yes-or-no',
    says: /hears: .*"yes-no".*came "yes-or-no"/,
  },
  {
    what: 'an ending that is none',
    change: lamp('end: settled', 'end: happy'),
    at: 'happy',
    says: /end: .*"settled".*came "happy"/,
  },
  {
    what: 'a step that neither hears nor ends',
    change: lamp('    end: settled\n', ''),
    at: 'tell:\n',
    says: /either hears an answer \("hears"\) or is an ending \("end"\)/,
  },
  {
    what: 'a fact that nobody has',
    change: lamp('the ball to {setting}', 'the ball to {settings}'),
    at: '"Set the ball',
    says: /\{settings\} is neither a fact \(.*setting.*\) nor a limit of limits.yaml/,
  },
  {
    what: 'a condition that is none',
    change: lamp('"yes": good', '"yes": [{ when: fragil, to: good }, { to: good }]'),
    at: '[{ when: fragil',
    says: /go > yes/,
  },
  {
    what: 'a last branch that may not hold',
    change: lamp('"yes": good', '"yes": [{ when: fragile, to: good }]'),
    at: 'fragile, to',
    says: /the last branch must have no "when"/,
  },
  {
    what: 'a wait that is no length of time',
    change: lamp('    end: settled', '    end: settled\n    silent: { after: 3 minutes, to: good }'),
    at: '3 minutes',
    says: /a duration such as PT3M/,
  },
  {
    what: 'a topic that two flows open on',
    change: lamp('  no-power: is-it-on', '  no-power: is-it-on\n  humidifier-empty: is-it-on'),
    at: 'is-it-on\nsteps',
    says: /the topic "humidifier-empty" already opens flow bottle/,
  },
  {
    what: 'a line that is no YAML',
    change: lamp('    end: settled', '   end: settled'),
    at: '   end: settled',
    says: /./,
  },
  {
    what: 'a danger step that leaves someone without a reply',
    change: { file: 'danger.yaml', from: '      miss: has-called\n', to: '' },
    at: '"yes": has-called',
    says: /a step of the danger flow needs "miss" under "go"/,
  },
];

test.for(BROKEN)('$what is refused with file, line, column and what to write', ({ change, at, says }) => {
  const files = lampFiles(change);
  const problems = problemsOf(files);
  const place = placeOf(files, change.file, at);
  expect(problems.filter((problem) => problem.startsWith(`${place}: `)).join('\n')).toMatch(says);
});

test('a step that the desk itself needs is asked for by its name', () => {
  const files = lampFiles({ file: 'danger.yaml', from: '  person-asked:', to: '  person-called:' });
  expect(problemsOf(files).join()).toMatch(
    /^danger.yaml:\d+:\d+: the desk itself leads to "danger.person-asked"; add it/,
  );
});

test('a file that the book cannot do without is asked for by its name', () => {
  const files = lampFiles().filter(({ file }) => file !== 'emergency.yaml');
  expect(problemsOf(files)).toEqual([expect.stringMatching(/^emergency.yaml:1:1: no such file; flows\/ needs/)]);
});

test('everything wrong is said at once', () => {
  const problems = problemsOf(
    lampFiles(lamp('end: settled', 'ends: settled'), { file: 'person.yaml', from: 'do: ', to: 'does: ' }),
  );
  expect(problems.map((problem) => problem.split(':')[0])).toEqual(
    expect.arrayContaining(['lamp.yaml', 'person.yaml']),
  );
});

test('a folder with a broken flow keeps the desk from opening, and a mended one lets it', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'nightbell-flows-'));
  onTestFinished(() => rm(folder, { recursive: true }));
  const write = (files: readonly FlowFile[]) =>
    Promise.all(files.map(({ file, text }) => writeFile(join(folder, file), text)));
  await write(lampFiles(lamp('"no": set-it', '"no": set-itt')));
  expect(() => loadBook(folder)).toThrow(/cannot be used:\nlamp.yaml:\d+:\d+: no step "set-itt"/);
  await write(lampFiles());
  expect(loadBook(folder).book.flows.map((flow) => flow.flow)).toContain('lamp');
});
