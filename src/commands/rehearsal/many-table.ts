import type { DangerPlayed, Outcome } from './many.ts';

const share = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(1)}%`;

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** By fault: how it ended, and guest messages used, as a Markdown table. */
export function faultTable(outcomes: readonly Outcome[]): string {
  const byFault = Map.groupBy(outcomes, (outcome) => outcome.fault);
  const row = (name: string, of: readonly Outcome[]): string => {
    const count = (how: Outcome['how']): string => share(of.filter((each) => each.how === how).length, of.length);
    const messages = of.map((each) => each.guestMessages);
    const columns = [
      name,
      of.length,
      count('settled'),
      count('handed-over'),
      count('wrong-turn'),
      count('false-emergency'),
      count('left'),
      `${median(messages)}, ${Math.max(...messages)}`,
    ];
    return `| ${columns.join(' | ')} |`;
  };
  return [
    '| true fault | n | settled | handed over | wrong turn | false emergency | left unanswered | messages: median, worst |',
    '|---|---|---|---|---|---|---|---|',
    ...[...byFault].map(([name, of]) => row(name, of)),
    row('all', outcomes),
  ].join('\n');
}

/** Danger texts thrown in at every state: what came of them. */
export function dangerTable(played: readonly DangerPlayed[]): string {
  const count = (how: DangerPlayed['how']): number => played.filter((each) => each.how === how).length;
  const states = new Set(played.map((each) => each.step)).size;
  return [
    '| danger texts | states | emergency reply | danger questions | told before, thread stays | missed |',
    '|---|---|---|---|---|---|',
    `| ${played.length} | ${states} | ${share(count('emergency'), played.length)} | ${share(count('asked'), played.length)} | ${share(count('told'), played.length)} | ${count('missed')} (${share(count('missed'), played.length)}) |`,
  ].join('\n');
}
