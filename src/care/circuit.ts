import { within } from './range.ts';
import type { Range } from './range.ts';

/** The circuit behind a room's outlets. */
export interface Circuit {
  /** 5 to 60 A */
  readonly breakerA: number;
  /** 100 to 240 V */
  readonly volts: number;
}

/** An ordinary circuit of a US guest room. */
export const US_ROOM_CIRCUIT: Circuit = { breakerA: 15, volts: 120 };

/** What may be drawn for three hours or more, as a fraction of the breaker. Source: NEC 210.20(A), from memory. */
const CONTINUOUS_FRACTION = 0.8;

/** What one thing on a circuit may draw. */
export const LOAD_W: Range = { from: 1, to: 5000, unit: 'W', advice: 'if it is in amperes, multiply by the volts' };
const BREAKER_A: Range = { from: 5, to: 60, unit: 'A', advice: 'take the number on the breaker' };
const SUPPLY_V: Range = { from: 100, to: 240, unit: 'V', advice: 'take the voltage of the outlet' };

export interface CircuitLoad {
  readonly amps: number;
  /** What the circuit may carry all night, A. */
  readonly continuousA: number;
  /** "overloaded": more than it may carry all night, and a warm breaker may let go; "trips": above the breaker's rating, sooner or later. */
  readonly verdict: 'fits' | 'overloaded' | 'trips';
}

/**
 * What units, heaters and the like draw together, taken as plain resistive loads: amperes are watts over volts.
 * @param wattsEach 1 to 5,000 W each
 * @throws RangeError outside that, or for a circuit outside its ranges
 */
export function circuitLoad(wattsEach: readonly number[], circuit: Circuit = US_ROOM_CIRCUIT): CircuitLoad {
  const breakerA = within('breaker', circuit.breakerA, BREAKER_A);
  const volts = within('supply', circuit.volts, SUPPLY_V);
  const watts = wattsEach.reduce((sum, each) => sum + within('load', each, LOAD_W), 0);
  const amps = watts / volts;
  const continuousA = breakerA * CONTINUOUS_FRACTION;
  if (amps > breakerA) return { amps, continuousA, verdict: 'trips' };
  return { amps, continuousA, verdict: amps > continuousA ? 'overloaded' : 'fits' };
}
