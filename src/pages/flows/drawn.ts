import type { Viz } from '@viz-js/viz';
import type { FlowBook } from '../../flow/book.ts';
import { hashOf } from '../../flow/book.ts';
import { chartOf } from '../../flow/chart.ts';
import type { Language } from '../../words/heard.ts';

/** Charts kept: all flows of several versions, some kilobytes each. */
const KEPT = 200;

/** The charts of flows as SVG, each laid out once: the layout takes tenths of a second. */
export class FlowsAsDrawn {
  readonly #kept = new Map<string, string>();
  #viz: Promise<Viz> | null = null;

  /** A flow's chart; null when the book has no such flow. */
  async chart(book: FlowBook, flow: string, lang: Language): Promise<string | null> {
    const document = book.flows.find((each) => each.flow === flow);
    if (document === undefined) return null;
    const draw = (): Promise<string> => this.#draw(flow, chartOf(book, document, lang));
    return this.#keep(`${hashOf(book)} ${flow} ${lang}`, draw);
  }

  /** The part of a flow's chart that a conversation came through; null when the book has no such flow. */
  async path(book: FlowBook, flow: string, lang: Language, steps: ReadonlySet<string>): Promise<string | null> {
    const document = book.flows.find((each) => each.flow === flow);
    if (document === undefined) return null;
    const walked = [...steps].filter((step) => step.startsWith(`${flow}.`));
    const draw = (): Promise<string> => this.#draw(flow, pathOnly(chartOf(book, document, lang), steps));
    return this.#keep(`${hashOf(book)} ${flow} ${lang} ${walked.join(' ')}`, draw);
  }

  async #keep(key: string, draw: () => Promise<string>): Promise<string> {
    const kept = this.#kept.get(key);
    if (kept !== undefined) return kept;
    const svg = await draw();
    if (this.#kept.size >= KEPT) this.#kept.clear();
    this.#kept.set(key, svg);
    return svg;
  }

  async #draw(flow: string, dot: string): Promise<string> {
    // Compiled to WebAssembly: loaded only where charts are drawn.
    this.#viz ??= import('@viz-js/viz').then(({ instance }) => instance());
    const drawn = (await this.#viz).renderString(dot, { format: 'svg' });
    // The document's head is for files; colours and fonts are the style sheet's.
    return drawn
      .slice(drawn.indexOf('<svg'))
      .replaceAll(/ (?:fill|stroke|font-family)="(?!none")[^"]*"/g, '')
      .replaceAll(/ xmlns:xlink="[^"]*"| xml:space="preserve"|<!--[^]*?-->\n/g, '')
      .replace('<svg ', `<svg role="img" aria-label="The chart of ${flow}" `);
  }
}

/** A step by the name of one of its symbols: a question and an ending have symbols of their own. */
function stepOfSymbol(symbol: string): string {
  return symbol
    .replaceAll('&#45;', '-')
    .replace(/^to /, '')
    .replace(/( end|\?)$/, '');
}

/** The chart with the steps of a path marked, by shape (a thick outline) as well as by colour. */
export function withPath(svg: string, steps: ReadonlySet<string>): string {
  return svg.replaceAll(/class="node">\n<title>([^<]*)<\/title>/g, (whole, title: string) =>
    steps.has(stepOfSymbol(title)) ? whole.replace('"node"', '"node walked"') : whole,
  );
}

/** Of a chart in the DOT language, the symbols of a path and the arrows between them: short enough for a margin. */
export function pathOnly(dot: string, steps: ReadonlySet<string>): string {
  const isKept = (symbol: string | undefined): boolean =>
    symbol === undefined || symbol === 'start' || steps.has(stepOfSymbol(symbol));
  return dot
    .split('\n')
    .filter((line) => {
      const [, from, to] = /^"([^"]*)" (?:-> "([^"]*)"|\[)/.exec(line) ?? [];
      return isKept(from) && isKept(to);
    })
    .join('\n');
}
