import { z } from 'zod';
import { hasWorstItem, lakeLouise } from '../care/lake-louise.ts';
import type { LakeLouiseItems } from '../care/lake-louise.ts';

/**
 * The table from score, reading and person to what is said. A clinician signs it, so it stands in `flows/` as rows that can
 * be read one by one: the first row that fits decides, and the last one fits everybody.
 */

const RESULTS = ['too-early', 'not-by-score', 'mild', 'moderate', 'severe'] as const;
/** `low`: at or below the limit at which a clinician has to see someone, after the danger questions were denied. */
const READINGS = ['low', 'not-low', 'none'] as const;
const WHO = ['adult', 'child', 'pregnant', 'heart-or-lung'] as const;

export const symptomRowSchema = z.strictObject({
  who: z.array(z.enum(WHO)).optional(),
  score: z.array(z.enum(RESULTS)).optional(),
  reading: z.array(z.enum(READINGS)).optional(),
  /** Severe headache together with severe vomiting. */
  'headache-and-vomiting': z.literal('severe').optional(),
  /** Some item is at its worst, whatever the total. */
  'worst-item': z.literal(true).optional(),
  /** Nothing was named at all. */
  total: z.literal(0).optional(),
  to: z.string(),
  /** For the clinician who reads the table. */
  because: z.string().min(1),
});
export type SymptomRow = z.infer<typeof symptomRowSchema>;

export const symptomTableSchema = z.strictObject({
  reviewed: z.strictObject({ by: z.string().nullable(), on: z.string().nullable() }),
  /** Percent: at or below it a reading is `low`. */
  'low-reading-pct': z.number().min(50).max(100),
  rows: z.array(symptomRowSchema).min(1),
});
export type SymptomTable = z.infer<typeof symptomTableSchema>;

/** Answers that steps have kept, by the name each step gives. */
export type Kept = Readonly<Record<string, string | number>>;

/** What must have been kept before the table can be asked. */
export const KEPT_NAMES = ['who', 'headache', 'gut', 'fatigue', 'dizziness', 'hours', 'saturation'] as const;

function itemsOf(kept: Kept): LakeLouiseItems {
  const item = (name: string): number => Number(kept[name] ?? 0);
  return { headache: item('headache'), gut: item('gut'), fatigue: item('fatigue'), dizziness: item('dizziness') };
}

function readingOf(kept: Kept, lowPct: number): (typeof READINGS)[number] {
  const reading = kept['saturation'];
  if (typeof reading !== 'number') return 'none';
  return reading <= lowPct ? 'low' : 'not-low';
}

/** Whether a row fits what was kept. An item that was not asked counts as none; hours that were not told as enough. */
export function rowFits(row: SymptomRow, kept: Kept, lowPct: number): boolean {
  const items = itemsOf(kept);
  const hours = typeof kept['hours'] === 'number' ? kept['hours'] : Infinity;
  const who = kept['who'] ?? 'adult';
  return (
    (row.who === undefined || row.who.some((each) => each === who)) &&
    (row.score === undefined || row.score.includes(lakeLouise(items, hours))) &&
    (row.reading === undefined || row.reading.includes(readingOf(kept, lowPct))) &&
    (row['headache-and-vomiting'] === undefined || (items.headache === 3 && items.gut === 3)) &&
    (row['worst-item'] === undefined || hasWorstItem(items)) &&
    (row.total === undefined || Object.values(items).every((value) => value === 0))
  );
}

/** The row that decides. The last row of a checked table fits everybody. */
export function rowFor(table: SymptomTable, kept: Kept): SymptomRow | undefined {
  return table.rows.find((row) => rowFits(row, kept, table['low-reading-pct']));
}
