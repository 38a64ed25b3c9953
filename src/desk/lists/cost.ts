import { textParts } from '../../care/text-parts.ts';
import { flowOf } from '../../flow/book.ts';
import type { FlowBook } from '../../flow/book.ts';
import type { Talk } from './records.ts';

/** What the conversations about one matter cost in text parts. */
export interface MatterCost {
  readonly matter: string;
  readonly conversations: number;
  /** Text parts to guests, and from them. */
  readonly partsOut: number;
  readonly partsIn: number;
  /** Of a conversation, both ways together: the middle one, and the dearest. */
  readonly medianParts: number;
  readonly mostParts: number;
  /** Of all its parts; null where no price is set. */
  readonly cents: number | null;
}

const isText = (line: Talk['lines'][number]): boolean =>
  !line.spoken &&
  line.who === 'desk' &&
  (line.step === null || line.step.includes('.')) &&
  !line.words.startsWith('outlet ');

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const upper = sorted[Math.floor(sorted.length / 2)] ?? 0;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[sorted.length / 2 - 1] ?? upper)) / 2;
}

/** The first flow, past the sorting, that the conversation came through. */
function matterOf({ lines }: Talk, book: FlowBook): string {
  const steps = lines.flatMap(({ who, step }) => (who === 'desk' && step?.includes('.') === true ? [step] : []));
  const flow = steps.map(flowOf).find((each) => each !== 'opening') ?? 'opening';
  return book.flows.find((each) => each.flow === flow)?.matter ?? flow;
}

/**
 * What conversations cost, by matter, the dearest together first, and all of them. Text parts after 3GPP TS 23.038; texts to
 * technicians and what was said on the phone are not in it.
 * @param centsAPart what the carrier takes for a part, either way; null where it is not set
 */
export function costsOf(
  talks: readonly Talk[],
  book: FlowBook,
  centsAPart: number | null,
): readonly [all: MatterCost, ...byMatter: MatterCost[]] {
  const counted = talks.map((talk) => {
    const parts = (lines: Talk['lines']): number => lines.reduce((sum, { words }) => sum + textParts(words).parts, 0);
    const partsIn = parts(talk.lines.filter(({ who, spoken }) => who === 'guest' && !spoken));
    return { matter: matterOf(talk, book), partsIn, partsOut: parts(talk.lines.filter(isText)) };
  });
  const sumUp = (matter: string, of: typeof counted): MatterCost => {
    const both = of.map(({ partsIn, partsOut }) => partsIn + partsOut);
    const sum = (values: readonly number[]): number => values.reduce((total, each) => total + each, 0);
    return {
      matter,
      conversations: of.length,
      partsOut: sum(of.map(({ partsOut }) => partsOut)),
      partsIn: sum(of.map(({ partsIn }) => partsIn)),
      medianParts: median(both),
      mostParts: Math.max(0, ...both),
      cents: centsAPart === null ? null : sum(both) * centsAPart,
    };
  };
  const byMatter = [...Map.groupBy(counted, ({ matter }) => matter)]
    .map(([matter, of]) => sumUp(matter, of))
    .toSorted((a, b) => b.partsIn + b.partsOut - a.partsIn - a.partsOut || (a.matter < b.matter ? -1 : 1));
  return [sumUp('all', counted), ...byMatter];
}
