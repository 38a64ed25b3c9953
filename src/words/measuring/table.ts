import { meetsGoal, type Figure } from './figures.ts';

const Z_95 = 1.959964;

/** The 95% interval of a share after Wilson (1927): honest for few texts and for shares near 0 or 1. */
export function wilson(hits: number, of: number): { low: number; high: number } {
  if (of === 0) return { low: 0, high: 1 };
  const share = hits / of;
  const z2 = Z_95 ** 2;
  const middle = (share + z2 / (2 * of)) / (1 + z2 / of);
  const half = (Z_95 / (1 + z2 / of)) * Math.sqrt((share * (1 - share)) / of + z2 / (4 * of * of));
  return { low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** One line a figure: its name, the count, the share with its interval, the goal and whether it is met. */
export function tableOf(title: string, figures: readonly Figure[]): string {
  const lines = figures.map((figure) => {
    const { low, high } = wilson(figure.hits, figure.of);
    const share = figure.of === 0 ? '-' : percent(figure.hits / figure.of);
    const interval = `${percent(low)} to ${percent(high)}`;
    const count = `${figure.hits}/${figure.of}`;
    return `  ${figure.name.padEnd(30)}${count.padStart(11)}${share.padStart(9)}  ${interval.padEnd(17)}${goalOf(figure)}`;
  });
  return [title, ...lines].join('\n');
}

function goalOf(figure: Figure): string {
  if (figure.goal === undefined) return '';
  const goal =
    'atLeast' in figure.goal ? `${percent(figure.goal.atLeast)} or more` : `${percent(figure.goal.atMost)} or less`;
  return `${goal.padEnd(16)}${meetsGoal(figure) ? 'met' : 'MISSED'}`;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)}%`;
}
