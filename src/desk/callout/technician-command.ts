import { distance } from 'fastest-levenshtein';

/** What a technician can say to the desk about a callout by text. */
export const COMMANDS = ['take', 'pass', 'done', 'tell'] as const;
export type CommandWord = (typeof COMMANDS)[number];

export interface TechnicianCommand {
  readonly command: CommandWord;
  /** The number that came after the word, if one did. It may be the first of the words instead. */
  readonly number: number | null;
  /** What followed the number: the note of DONE, the words of TELL. */
  readonly words: string;
}

const COMMAND = /^\s*(take|pass|done|tell)\b[\s:#.,!-]*(?:(\d{1,9})\b)?[\s:.,!-]*(.*)$/is;

/** TAKE, PASS, DONE with a note or TELL with words for the guest; a number where there are several. Null for other words. */
export function readCommand(text: string): TechnicianCommand | null {
  const [, word, number, words = ''] = COMMAND.exec(text) ?? [];
  const command = COMMANDS.find((each) => each === word?.toLowerCase());
  if (command === undefined) return null;
  return { command, number: number === undefined ? null : Number(number), words: words.trim() };
}

/** Two letters swapped, or two wrong, missing or too many: what thumbs do at two in the morning. */
const MOST_SLIPS = 2;

/** The command that a misspelled first word was probably meant to be; null when it is like none. It is never carried out. */
export function probablyMeant(text: string): CommandWord | null {
  const word = /^[^\p{Letter}]*(\p{Letter}{3,6})(?!\p{Letter})/u.exec(text)?.[1]?.toLowerCase();
  if (word === undefined) return null;
  const [nearest] = COMMANDS.map((command) => ({ command, slips: distance(word, command) })).toSorted(
    (a, b) => a.slips - b.slips,
  );
  return nearest !== undefined && nearest.slips <= MOST_SLIPS ? nearest.command : null;
}
