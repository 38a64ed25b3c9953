import type { OutletBelief } from '../../care/outlets.ts';
import { FEWEST_FAULTS, WRONG_IN_ONE_OF } from '../../care/failing.ts';
import { SURE_ENOUGH_TO_TELL } from '../../care/outlets.ts';
import type { CircuitLoad } from '../../care/circuit.ts';
import { sayOutlet } from '../../flow/say.ts';
import type { FlowBook } from '../../flow/book.ts';
import type { MatterCost } from '../../desk/lists/cost.ts';
import { HEATER_W } from '../../desk/lists/deliveries.ts';
import type { Delivery } from '../../desk/lists/deliveries.ts';
import type { Failing, Failures, Week } from '../../desk/lists/faults.ts';
import type { KnownRoom } from '../../desk/lists/lists.ts';
import type { NotUnderstood, StepStanding } from '../../desk/lists/told.ts';

/** The owner's lists as lines of a terminal. */

const MOST_LINES = 25;
const MANY = new Intl.PluralRules('en');
const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${MANY.select(n) === 'one' ? one : many}`;

function shortened(lines: readonly string[]): readonly string[] {
  const more = lines.length - MOST_LINES;
  return more <= 0 ? lines : [...lines.slice(0, MOST_LINES), `  and ${more} more`];
}

function chanceInWords(chance: number): string {
  return chance < 0.0001 ? 'under 0.01%' : `${(chance * 100).toPrecision(2)}%`;
}

function failingLine({ name, faults, rentalDays, faultyRentals, othersDaysAFault, raised, verdict }: Failing): string {
  const others = othersDaysAFault === null ? 'the others had none' : `the others one in ${othersDaysAFault.toFixed(0)}`;
  const counts = `${counted(faults, 'fault')} in ${counted(rentalDays, 'rental-day')}, ${counted(faultyRentals, 'rental')}; ${others}`;
  return `  ${verdict === 'pull' ? 'PULL FOR SERVICE' : 'watch'}  ${name}: ${counts}; by chance ${chanceInWords(raised)}`;
}

function judgedLines(title: string, all: readonly Failing[]): readonly string[] {
  const found = all.filter(({ verdict }) => verdict !== 'fine');
  const rented = `${counted(all.length, 'was', 'were')} rented`;
  return [`${title}: ${rented}`, ...(found.length === 0 ? ['  none'] : shortened(found.map(failingLine)))];
}

function weekLine({ monday, events, exposure, rate, lower, upper, beyond }: Week): string {
  if (rate === null) return `  ${monday}  nothing was rented`;
  const said = beyond === null ? '' : `  ${beyond.toUpperCase()} the limit`;
  const numbers = `${String(events).padStart(3)} in ${String(exposure).padStart(4)} days  ${rate.toFixed(3)}`;
  return `  ${monday}  ${numbers}  (${lower.toFixed(3)} to ${upper.toFixed(3)})${said}`;
}

/** Units and rooms that fail too often, and the weeks. */
export function failingInWords({ units, rooms, weeks, fleetRate }: Failures): readonly string[] {
  return [
    ...judgedLines('Units that fail too often', units),
    ...judgedLines('Rooms that fail too often', rooms),
    `Each against all the others, by an exact Poisson test, with Holm's correction: one list in ${WRONG_IN_ONE_OF} names anything`,
    `wrongly. Nothing is named on fewer than ${FEWEST_FAULTS} faults. "watch" would be too often for one looked at alone.`,
    '',
    `Faults of units per rental-day, by the week's Monday (u chart${fleetRate === null ? '' : `, centre ${fleetRate.toFixed(3)}`})`,
    ...weeks.map(weekLine),
  ];
}

function outletInWords(belief: OutletBelief, book: FlowBook): string {
  const { place, worked, failed, ageDays, sure } = belief;
  const tried = [...(worked > 0 ? [`worked ${worked}x`] : []), ...(failed > 0 ? [`gave no power ${failed}x`] : [])];
  const when = ageDays < 1 ? 'today' : `${counted(Math.floor(ageDays), 'day')} ago`;
  const told = sure >= SURE_ENOUGH_TO_TELL ? '' : ', not told';
  return `${sayOutlet(book, place, 'en') ?? place}: ${tried.join(', ')}, last ${when}, ${Math.round(sure * 100)}% sure${told}`;
}

export function outletsInWords(rooms: readonly KnownRoom[], book: FlowBook): readonly string[] {
  const lines = rooms.flatMap(({ property, room, outlets }) => [
    `  ${property}, ${room}`,
    ...outlets.map((each) => `    ${outletInWords(each, book)}`),
  ]);
  return ['Outlets that guests found out about', ...(lines.length === 0 ? ['  none yet'] : lines)];
}

export function notUnderstoodInWords(words: readonly NotUnderstood[]): readonly string[] {
  const lines = words.map(
    ({ words: said, times, lang, step }) =>
      `  ${String(times).padStart(4)}  ${lang}  ${(step ?? 'first text').padEnd(28)} "${said.replaceAll(/\s+/g, ' ').slice(0, 90)}"`,
  );
  return [
    'Said and not understood, at the step that stood',
    ...(lines.length === 0 ? ['  nothing'] : shortened(lines)),
  ];
}

export function hardStepsInWords(steps: readonly StepStanding[]): readonly string[] {
  const lines = steps.map(
    ({ step, lang, asked, missed, gaveUp }) =>
      `  ${step.padEnd(32)} ${lang}  asked ${String(asked).padStart(4)}, not understood ${String(missed).padStart(3)}, ` +
      `gave up ${String(gaveUp).padStart(3)}${asked === 0 ? '' : ` (${Math.round((100 * gaveUp) / asked)}%)`}`,
  );
  return [
    'Steps at which guests give up or are not understood',
    ...(lines.length === 0 ? ['  none'] : shortened(lines)),
  ];
}

const VERDICT: Readonly<Record<CircuitLoad['verdict'], string>> = {
  fits: 'fits',
  overloaded: 'too much for all night',
  trips: 'trips the breaker',
};

function loadInWords({ load, unitsInRoom }: Delivery): string {
  if (load === null) return 'load: a model sheet does not say what its unit draws';
  const { alone, withHeater } = load;
  const units = unitsInRoom === 1 ? 'unit' : `${unitsInRoom} units in the room`;
  return (
    `load on one circuit of 15 A: ${units} ${alone.amps.toFixed(1)} A of ${alone.continuousA} (${VERDICT[alone.verdict]}); ` +
    `with a heater of ${HEATER_W} W ${withHeater.amps.toFixed(1)} A (${VERDICT[withHeater.verdict]})`
  );
}

function bottleInWords({ bottle }: Delivery): string {
  const { hours, trade, computed, because } = bottle;
  const ours =
    computed === null
      ? `not computed (${because})`
      : `${computed.earliest.toFixed(0)} to ${computed.latest.toFixed(0)} h computed (${because})`;
  return `bottle: ${ours}; ${trade.earliest} to ${trade.latest} h by the trade; the guest is told ${hours} h`;
}

export function deliveriesInWords(day: string, deliveries: readonly Delivery[], book: FlowBook): readonly string[] {
  const lines = deliveries.flatMap((delivery) => {
    const { stay, outlets, aboveRatedM, toPull } = delivery;
    const { property, room, unit, guestName, lastDay } = stay;
    const outlet = outlets.map((each) => outletInWords(each, book)).join('; ');
    return [
      `  ${property.name}, ${room}: ${unit.tag} (${unit.model.name}) for ${guestName}, until ${lastDay}`,
      ...(toPull ? [`    PULL FOR SERVICE: ${unit.tag} fails too often; bring another`] : []),
      `    outlets: ${outlet === '' ? 'nothing known; try the one you use with its wall switches off' : outlet}`,
      `    ${loadInWords(delivery)}`,
      `    ${bottleInWords(delivery)}`,
      ...(aboveRatedM === null ? [] : [`    stands at ${property.elevationM} m, rated to ${aboveRatedM} m`]),
      ...(property.entrance === null ? [] : [`    way in: ${property.entrance}`]),
    ];
  });
  return [`Deliveries of ${day}`, ...(lines.length === 0 ? ['  none'] : lines)];
}

const money = (cents: number): string => `$${(cents / 100).toFixed(2)}`;

export function costsInWords([all, ...byMatter]: readonly [MatterCost, ...MatterCost[]]): readonly string[] {
  const line = ({ matter, conversations, partsOut, partsIn, medianParts, mostParts, cents }: MatterCost): string => {
    const each = cents === null || conversations === 0 ? '' : `, ${money(cents)}, ${money(cents / conversations)} each`;
    return (
      `  ${matter.padEnd(24)} ${String(conversations).padStart(5)} conversations, ${partsOut} parts to guests, ` +
      `${partsIn} from them; each ${medianParts} in the middle, ${mostParts} at most${each}`
    );
  };
  const price = all.cents === null ? 'set TEXT_PART_CENTS for what that costs' : 'at the price of TEXT_PART_CENTS';
  return [`Text parts, ${price}; texts to technicians are not in it`, line(all), ...byMatter.map(line)];
}
