import { SETTING_LPM } from '../../care/setting.ts';
import type { FlowRateLine } from '../property.ts';
import type { CellKind } from './cell.ts';

/** A line as it stands in a cell; without people it is for as many as the rental has. */
export interface WrittenLine extends Omit<FlowRateLine, 'people'> {
  readonly people: 1 | 2 | null;
}

const LINE =
  /^(?:(?<people>[12]) ?(?:p|person|people) )?(?:(?<when>day|night|any) )?(?<from>\d+(?:\.\d+)?)(?: ?(?:-|to) ?(?<to>\d+(?:\.\d+)?))?(?: ?(?:l\/min|lpm))?$/i;

function lineOf(written: string): WrittenLine | null {
  const { people, when, from, to } = LINE.exec(written)?.groups ?? {};
  if (from === undefined) return null;
  const fromLpm = Number(from);
  const toLpm = Number(to ?? from);
  if (fromLpm < SETTING_LPM.from || toLpm > SETTING_LPM.to || fromLpm > toLpm) return null;
  return {
    people: people === undefined ? null : people === '1' ? 1 : 2,
    when: (when?.toLowerCase() ?? 'any') as FlowRateLine['when'],
    fromLpm,
    toLpm,
  };
}

/** The settings of an order in one cell: "2", "night 2; day 3.5-4", "1 person 2; 2 people night 5". */
export const orderLines: CellKind<readonly WrittenLine[]> = {
  allowed: `settings from ${SETTING_LPM.from} to ${SETTING_LPM.to} L/min, as "2", "night 2; day 3.5-4" or "1 person 2; 2 people night 5"`,
  read(cell) {
    const lines = cell
      .replaceAll(/[\s–]+/g, (mark) => (mark.includes('–') ? '-' : ' '))
      .split(';')
      .map((part) => part.trim())
      .filter((part) => part !== '')
      .map(lineOf);
    return lines.length === 0 || lines.includes(null) ? null : (lines as readonly WrittenLine[]);
  },
};
