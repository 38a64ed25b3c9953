import type { Language } from '../words/heard.ts';
import { flowOf, fullName } from './book.ts';
import type { FlowBook, StepId } from './book.ts';
import type { FlowDocument, Step, Target } from './document.ts';
import { fillPlaceholders } from './needs.ts';

/**
 * A flow as a flow chart in the symbols of ISO 5807: a process for what is to be done, a decision for the question, a
 * terminator for an ending, a connector where another flow goes on. Written in the DOT language, for a graph library to
 * lay out from top to bottom.
 */

const WRAP_AT = 34;

function wrapped(text: string): string {
  const lines: string[] = [''];
  for (const word of text.split(/\s+/)) {
    const line = lines.at(-1) ?? '';
    if (line !== '' && line.length + word.length >= WRAP_AT) lines.push(word);
    else lines[lines.length - 1] = line === '' ? word : `${line} ${word}`;
  }
  return lines.join('\n');
}

const quoted = (text: string): string => `"${text.replace(/["\\]/g, '\\$&').replaceAll('\n', '\\n')}"`;

/** What is to be done, and the question behind it. */
function split(words: string): { readonly process: string; readonly question: string } {
  const sentences = words.split(/(?<=[.?!])\s+/);
  const question = sentences.findIndex((sentence) => sentence.includes('?'));
  if (question < 0) return { process: words, question: '' };
  return { process: sentences.slice(0, question).join(' '), question: sentences.slice(question).join(' ') };
}

class Chart {
  private readonly lines: string[] = [];
  private readonly connectors = new Set<string>();
  private readonly flow: FlowDocument;
  private readonly book: FlowBook;
  private readonly lang: Language;

  constructor(book: FlowBook, flow: FlowDocument, lang: Language) {
    this.book = book;
    this.flow = flow;
    this.lang = lang;
  }

  private node(id: string, shape: string, label: string): void {
    this.lines.push(`${quoted(id)} [${shape} label=${quoted(label)}];`);
  }

  private edge(from: string, to: string, label: string): void {
    this.lines.push(
      `${quoted(from)} -> ${quoted(this.entryOf(to))}${label === '' ? '' : ` [label=${quoted(` ${label} `)}]`};`,
    );
  }

  /** Where an arrow to a step ends: its first symbol, or a connector when the step is of another flow. */
  private entryOf(step: StepId): string {
    if (flowOf(step) === this.flow.flow) return step;
    const id = `to ${step}`;
    if (!this.connectors.has(id)) {
      this.connectors.add(id);
      this.node(id, 'shape=circle width=0.9 fixedsize=false', step.replace('.', '\n'));
    }
    return id;
  }

  private label(step: Step, answer: string): string {
    const kind = step.hears === undefined ? {} : (this.book.phrases.labels[step.hears] ?? {});
    return kind[answer]?.[this.lang] ?? answer;
  }

  private targets(target: Target): readonly (readonly [StepId, string])[] {
    const named = typeof target === 'string' ? [{ to: target, when: undefined }] : target;
    return named.map(({ to, when }) => [to.includes('.') ? to : fullName(this.flow.flow, to), when ?? ''] as const);
  }

  private arrows(from: string, step: Step): void {
    const grouped = new Map<string, string[]>();
    for (const [answer, target] of Object.entries(step.go ?? {})) {
      for (const [to, when] of this.targets(target)) {
        const label = [this.label(step, answer), when].filter(Boolean).join(', if ');
        grouped.set(to, [...(grouped.get(to) ?? []), label]);
      }
    }
    for (const [to, labels] of grouped) this.edge(from, to, labels.join('\n'));
    const unknown = step['if-unknown'];
    if (unknown !== undefined) this.edge(from, fullName(this.flow.flow, unknown), 'a fact is not known');
    if (step.otherwise !== undefined) this.edge(from, fullName(this.flow.flow, step.otherwise), 'anything else');
    if (step.silent !== undefined) {
      this.edge(from, fullName(this.flow.flow, step.silent.to), `silence, ${step.silent.after}`);
    }
  }

  private step(name: string, step: Step): void {
    const id = `${this.flow.flow}.${name}`;
    const words = [step.tell, step.ask]
      .flatMap((wording) => (wording === undefined ? [] : [wording[this.lang]]))
      .join(' ');
    const plain = fillPlaceholders(words, (placeholder) => `[${placeholder}]`);
    const { process, question } =
      step.says === 'emergency' ? { process: 'The emergency reply', question: '' } : split(plain);
    let last = id;
    if (process !== '' || question === '') this.node(id, 'shape=box', wrapped(process));
    if (question !== '') {
      const decision = process === '' ? id : `${id}?`;
      this.node(decision, 'shape=diamond', wrapped(question));
      if (decision !== id) this.lines.push(`${quoted(id)} -> ${quoted(decision)};`);
      last = decision;
    }
    if (step.end !== undefined) {
      this.node(`${id} end`, 'shape=box style=rounded', step.end);
      this.lines.push(`${quoted(last)} -> ${quoted(`${id} end`)};`);
    }
    this.arrows(last, step);
  }

  dot(): string {
    this.node('start', 'shape=box style=rounded', this.flow.flow);
    const openings = new Set(
      Object.values(this.flow['opens-on']).flatMap((target) => this.targets(target).map(([to]) => to)),
    );
    const first = Object.keys(this.flow.steps)[0] ?? '';
    for (const opening of openings.size === 0 ? [`${this.flow.flow}.${first}`] : openings) {
      const topics = Object.entries(this.flow['opens-on']).flatMap(([topic, target]) =>
        this.targets(target)
          .filter(([to]) => to === opening)
          .map(([, when]) => (when === '' ? topic : `${topic}, if ${when}`)),
      );
      this.edge('start', opening, topics.join('\n'));
    }
    for (const [name, step] of Object.entries(this.flow.steps)) this.step(name, step);
    const head =
      'rankdir=TB; node [fontname="Helvetica" fontsize=10 margin="0.2,0.08"]; edge [fontname="Helvetica" fontsize=9];';
    return `digraph ${quoted(this.flow.flow)} {\n${head}\n${this.lines.join('\n')}\n}\n`;
  }
}

/** The chart of one flow in the DOT language. */
export function chartOf(book: FlowBook, flow: FlowDocument, lang: Language): string {
  return new Chart(book, flow, lang).dot();
}
