import { ANSWER_KINDS } from '../words/heard.ts';
import type { AnswerKind } from '../words/heard.ts';
import type { Problem, ReadDocument } from '../reading/yaml.ts';
import { BY_TABLE, DANGER_FLOW, RESUME, STEPS_THE_ENGINE_NAMES, fullName, stepsOf } from './book.ts';
import type { FlowDocument, Step, Target } from './document.ts';
import { placeholdersIn } from './needs.ts';
import type { ReadFlowBook } from './placed-book.ts';
import { CALLOUT_PLACEHOLDERS, FACT_PLACEHOLDERS, VOICE_PLACEHOLDERS } from './say.ts';

/** Looks at every name that one part of the flows uses of another: the schema cannot, and XState takes any name. */

type Path = readonly PropertyKey[];
type Report = (path: Path, message: string) => void;

/** The answers that a step must say something about: each value of its kind (or each it offers), and "I do not know". */
export function answersTo(step: Step): readonly string[] {
  if (step.hears === undefined) return [];
  const kind: { values: readonly string[]; number: boolean } = ANSWER_KINDS[step.hears];
  return [...(step.choices ?? kind.values), ...(kind.number ? ['number'] : []), 'unsure'];
}

function targetsOf(target: Target, path: Path): readonly [Path, string][] {
  if (typeof target === 'string') return [[path, target]];
  return target.map((branch, index): [Path, string] => [[...path, index, 'to'], branch.to]);
}

function namedSteps(step: Step): readonly [Path, string][] {
  return [
    ...Object.entries(step.go ?? {}).flatMap(([answer, target]) => targetsOf(target, ['go', answer])),
    ...(step.worrying === undefined ? [] : targetsOf(step.worrying, ['worrying'])),
    ...(step['resume-at'] === undefined ? [] : [[['resume-at'], step['resume-at']] as [Path, string]]),
    ...(step.otherwise === undefined ? [] : [[['otherwise'], step.otherwise] as [Path, string]]),
    ...(step['if-unknown'] === undefined ? [] : [[['if-unknown'], step['if-unknown']] as [Path, string]]),
    ...(step.silent === undefined ? [] : [[['silent', 'to'], step.silent.to] as [Path, string]]),
  ];
}

function checkAnswers(step: Step, report: Report): void {
  const allowed = answersTo(step);
  const kind: AnswerKind | undefined = step.hears;
  if (kind === undefined && step.go !== undefined) {
    report(['go'], 'a step that leads on by answers must say what it hears; add "hears" with an answer kind');
    return;
  }
  for (const value of step.choices ?? []) {
    const values: readonly string[] = kind === undefined ? [] : ANSWER_KINDS[kind].values;
    if (!values.includes(value)) {
      report(['choices'], `"${value}" is no value of ${kind ?? 'any kind'}; allowed: ${values.join(', ')}`);
    }
  }
  for (const answer of Object.keys(step.go ?? {})) {
    if (![...allowed, 'miss'].includes(answer)) {
      report(['go', answer], `"${answer}" is no answer of ${kind}; allowed: ${allowed.join(', ')}, miss`);
    }
  }
  for (const answer of allowed) {
    if (step.go?.[answer] === undefined && step.otherwise === undefined) {
      report(step.go === undefined ? [] : ['go'], `no way on for the answer "${answer}" of ${kind}; add it under "go"`);
    }
  }
}

function checkBranches(step: Step, report: Report): void {
  for (const [answer, target] of Object.entries(step.go ?? {})) {
    if (typeof target === 'string') continue;
    target.forEach((branch, index) => {
      const last = index === target.length - 1;
      if (last && branch.when !== undefined) {
        report(['go', answer, index, 'when'], 'the last branch must have no "when", so that some branch always holds');
      }
      if (!last && branch.when === undefined) {
        report(['go', answer, index], 'a branch without "when" holds always; the branches after it are never reached');
      }
    });
  }
}

function checkStep(flow: FlowDocument, step: Step, report: Report, all: ReadonlySet<string>): void {
  if (step.tell === undefined && step.ask === undefined && step.says === undefined) {
    report([], 'a step must say something: add "tell" or "ask"');
  }
  if (step.hears === undefined && step.end === undefined) {
    report([], 'a step either hears an answer ("hears") or is an ending ("end")');
  }
  for (const [path, name] of namedSteps(step)) {
    if (name === BY_TABLE || (name === RESUME && flow.flow === DANGER_FLOW)) continue;
    if (!all.has(fullName(flow.flow, name))) {
      const near = [...all].filter((each) => each.startsWith(`${flow.flow}.`)).map((each) => each.split('.')[1]);
      report(path, `no step "${name}"; the steps of this flow are ${near.join(', ')}`);
    }
  }
  checkAnswers(step, report);
  checkBranches(step, report);
  if (flow.flow === DANGER_FLOW && step.otherwise === undefined && step.go?.['miss'] === undefined) {
    report(['go'], 'a step of the danger flow needs "miss" under "go": nobody there is left without a reply');
  }
}

function checkPlaceholders<T>(
  document: ReadDocument<T>,
  limits: ReadonlySet<string>,
  problems: Problem[],
  more: readonly string[] = [],
): void {
  const visit = (value: unknown, path: Path): void => {
    if (typeof value === 'string') {
      const known: readonly string[] =
        path[0] === 'callouts' ? [...FACT_PLACEHOLDERS, ...CALLOUT_PLACEHOLDERS] : [...FACT_PLACEHOLDERS, ...more];
      for (const name of placeholdersIn(value)) {
        if (known.includes(name) || limits.has(name)) continue;
        const message = `{${name}} is neither a fact (${known.join(', ')}) nor a limit of limits.yaml`;
        problems.push({ file: document.file, ...document.placeOf(path), message });
      }
    } else if (typeof value === 'object' && value !== null) {
      for (const [key, part] of Object.entries(value)) visit(part, [...path, key]);
    }
  };
  visit(document.value, []);
}

function checkTable({ symptomTable }: ReadFlowBook, all: ReadonlySet<string>, problems: Problem[]): void {
  const { file, value } = symptomTable;
  value.rows.forEach((row, index) => {
    const { to, because: _because, ...conditions } = row;
    const place = symptomTable.placeOf(['rows', index, 'to']);
    const report = (message: string) => problems.push({ file, ...place, message });
    if (!all.has(to)) report(`no step "${to}"; write flow.step`);
    const last = index === value.rows.length - 1;
    if (last !== (Object.keys(conditions).length === 0)) {
      report('the last row, and only it, must have no condition, so that some row always fits');
    }
  });
}

/** Problems with names: unknown steps, answers without a way on, unknown placeholders, two flows on one topic. */
export function checkNames(read: ReadFlowBook): readonly Problem[] {
  const problems: Problem[] = [];
  const all = new Set(stepsOf(read.book).keys());
  const limits = new Set(Object.keys(read.limits.value.limits));
  const topicOwner = new Map<string, string>();
  for (const document of read.flows) {
    const flow = document.value;
    const reportAt =
      (base: Path): Report =>
      (path, message) =>
        problems.push({ file: document.file, ...document.placeOf([...base, ...path]), message });
    for (const [topic, target] of Object.entries(flow['opens-on'])) {
      const report = reportAt(['opens-on', topic]);
      const owner = topicOwner.get(topic);
      if (owner !== undefined)
        report([], `the topic "${topic}" already opens flow ${owner}; one flow opens on a topic`);
      topicOwner.set(topic, flow.flow);
      for (const [path, name] of targetsOf(target, [])) {
        if (!all.has(fullName(flow.flow, name))) report(path, `no step "${name}" to open with`);
      }
    }
    for (const [name, step] of Object.entries(flow.steps)) checkStep(flow, step, reportAt(['steps', name]), all);
    checkPlaceholders(document, limits, problems);
  }
  for (const document of [read.phrases, read.emergency]) {
    checkPlaceholders<unknown>(document, limits, problems);
  }
  checkPlaceholders<unknown>(read.voice, limits, problems, VOICE_PLACEHOLDERS);
  checkTable(read, all, problems);
  for (const name of STEPS_THE_ENGINE_NAMES) {
    if (all.has(name)) continue;
    const [flow] = name.split('.');
    const home = read.flows.find((document) => document.value.flow === flow);
    const place = home?.placeOf(['steps']) ?? { line: 1, column: 1 };
    problems.push({
      file: home?.file ?? `${flow}.yaml`,
      ...place,
      message: `the desk itself leads to "${name}"; add it`,
    });
  }
  return problems;
}
