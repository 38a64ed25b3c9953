import { labelKey } from '../../../reading/label.ts';
import type { Range } from '../../../care/range.ts';
import { number, oneOf, phones, text, yesOrNo } from '../cell.ts';
import { date } from '../date.ts';
import type { DateOrder, WrittenDate } from '../date.ts';
import type { RentalEntry } from '../entries.ts';
import { orderLines } from '../order-lines.ts';
import type { WrittenLine } from '../order-lines.ts';
import { nameKey } from '../table-kind.ts';
import type { TableKind } from '../table-kind.ts';

/** A row of rentals as it is written: dates without a zone yet, and the order in its parts. */
export interface RentalRow extends Omit<RentalEntry, 'rentalId' | 'firstDay' | 'lastDay' | 'order'> {
  readonly firstDay: WrittenDate;
  readonly lastDay: WrittenDate;
  readonly orderedBy: string | null;
  readonly order: readonly WrittenLine[] | null;
  readonly mask: boolean;
  readonly keepsCo2: boolean;
  readonly cancelled: boolean;
}

/** People who share a unit in turns or by a Y; more is a slip of the pen. Own bounds, no source. */
const PEOPLE: Range = { from: 1, to: 8, unit: 'people' };

/** Rentals, with their dates in one order. */
export function rentalsTable(dates: DateOrder): TableKind<RentalRow> {
  const yes = (about: string) => ({ about, example: 'no', kind: yesOrNo, empty: false });
  return {
    name: 'rentals',
    about: 'who has which unit where, and from when to when',
    columns: {
      rental: {
        about: 'your own number for the booking; with it a rental may change its unit and its days',
        example: 'Q-1042',
        kind: text(40),
        empty: null,
      },
      guest: { about: 'the name', example: 'Perrin Aldwick', kind: text(60), joinedBy: ' ' },
      phones: {
        about: 'every phone that may write about it',
        example: '(970) 555-0101; (970) 555-0102',
        kind: phones,
        joinedBy: ';',
      },
      property: { about: 'the name of the property', example: 'Marlstone Lodge', kind: text(60) },
      room: { about: 'the room as a dispatcher is told it', example: '204', kind: text(20) },
      unit: { about: 'the tag of the unit', example: 'NB-01', kind: text(20) },
      firstDay: { about: 'the day it is brought, where the property is', example: '2026-12-20', kind: date(dates) },
      lastDay: { about: 'the day it is collected, where the property is', example: '2026-12-27', kind: date(dates) },
      people: { about: 'how many use the unit', example: '1', kind: number(PEOPLE, 'whole'), empty: 1 },
      fragile: yes('someone who must not be without oxygen'),
      ageGroup: { about: 'adult or child', example: 'adult', kind: oneOf('adult', 'child'), empty: 'adult' },
      cylinder: yes('a cylinder was left for power cuts'),
      oxygenAtHome: yes('uses oxygen at home as well'),
      orderedBy: { about: 'who signed the order', example: 'Dr. Ilka Vennmorrow', kind: text(60), empty: null },
      order: {
        about: 'the settings on the order, L/min',
        example: 'night 2; day 3.5-4',
        kind: orderLines,
        empty: null,
      },
      mask: yes('the order names a mask with a bag'),
      keepsCo2: yes('keeps carbon dioxide, as in COPD'),
      cancelled: yes('the booking was cancelled: the rental is taken away'),
    },
    identity: [],
    keyOf: ({ rental, unit, guest, firstDay }) =>
      rental == null ? `${labelKey(unit)} ${nameKey(guest)} ${JSON.stringify(firstDay)}` : `rental ${nameKey(rental)}`,
    called: ({ guest, unit }) => `rental of ${guest}, unit ${unit}`,
  };
}
