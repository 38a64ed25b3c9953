import type { Entry } from '../records.ts';

/** Steps that are about the conversation and not about the unit. */
const NOT_TRIED = new Set(['danger', 'opening', 'person']);
/** More than these few nobody reads before driving off. */
const MOST_STEPS = 4;

/** "listen-at-the-switch" as someone would say it. */
const spoken = (name: string): string => name.replaceAll('-', ' ');

/**
 * What a guest has tried with the desk, oldest first, in few words: "move to another outlet: continuous tone". From the
 * questions that stood and what was heard to them; an answer that was not understood is no try.
 */
export function triedIn(entries: readonly Entry[]): readonly string[] {
  const tried = entries.flatMap(({ who, step, heard }): string[] => {
    if (who !== 'guest' || step === null) return [];
    const answer = (heard as { answer?: string | number | null } | null)?.answer ?? null;
    const [flow = '', name = ''] = step.split('.');
    if (answer === null || answer === 'no-answer' || answer === 'unsure' || NOT_TRIED.has(flow)) return [];
    return [`${spoken(name)}: ${spoken(String(answer))}`];
  });
  return tried.slice(-MOST_STEPS);
}
