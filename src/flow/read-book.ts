import type { z } from 'zod';
import { readYaml } from '../reading/yaml.ts';
import type { Problem } from '../reading/yaml.ts';
import { emergencySchema, flowSchema, limitsSchema, phrasesSchema, voiceSchema } from './document.ts';
import type { FlowBook } from './book.ts';
import { checkNames } from './names.ts';
import type { ReadFlowBook } from './placed-book.ts';
import { symptomTableSchema } from './symptom-table.ts';

/** A file of `flows/`: its name within the folder, and its text. */
export interface FlowFile {
  readonly file: string;
  readonly text: string;
}

export type BookReading =
  | { readonly ok: true; readonly read: ReadFlowBook }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Files that are not flows but belong to the book. */
const PHRASES_FILE = 'phrases.yaml';
const EMERGENCY_FILE = 'emergency.yaml';
const VOICE_FILE = 'voice.yaml';
const LIMITS_FILE = 'limits.yaml';
const TABLE_FILE = 'symptom-table.yaml';
const NOT_FLOWS: readonly string[] = [PHRASES_FILE, EMERGENCY_FILE, VOICE_FILE, LIMITS_FILE, TABLE_FILE];

function missing(file: string): Problem {
  return { file, line: 1, column: 1, message: `no such file; flows/ needs ${NOT_FLOWS.join(', ')}` };
}

/**
 * Reads the files of `flows/` into one book and looks at every name in them. All problems at once, each with file, line,
 * column, what came and what may stand there.
 */
export function readBook(files: readonly FlowFile[]): BookReading {
  const problems: Problem[] = [];
  const one = <S extends z.ZodType>(file: FlowFile | undefined, name: string, schema: S) => {
    const reading = file === undefined ? null : readYaml(file.file, file.text, schema);
    if (reading === null) problems.push(missing(name));
    else if (!reading.ok) problems.push(...reading.problems);
    return reading?.ok === true ? reading.document : null;
  };
  const named = (name: string) => files.find((file) => file.file === name);
  const phrases = one(named(PHRASES_FILE), PHRASES_FILE, phrasesSchema);
  const emergency = one(named(EMERGENCY_FILE), EMERGENCY_FILE, emergencySchema);
  const voice = one(named(VOICE_FILE), VOICE_FILE, voiceSchema);
  const limits = one(named(LIMITS_FILE), LIMITS_FILE, limitsSchema);
  const symptomTable = one(named(TABLE_FILE), TABLE_FILE, symptomTableSchema);
  const flows = files
    .filter((file) => !NOT_FLOWS.includes(file.file))
    .map((file) => one(file, file.file, flowSchema))
    .filter((document) => document !== null);
  if (phrases === null || emergency === null || voice === null || limits === null || symptomTable === null) {
    return { ok: false, problems };
  }
  if (problems.length > 0) return { ok: false, problems };
  const book: FlowBook = {
    flows: flows.map((document) => document.value),
    phrases: phrases.value,
    emergency: emergency.value,
    voice: voice.value,
    limits: limits.value,
    symptomTable: symptomTable.value,
  };
  const read: ReadFlowBook = { book, flows, phrases, emergency, voice, limits, symptomTable };
  const unknown = checkNames(read);
  return unknown.length > 0 ? { ok: false, problems: unknown } : { ok: true, read };
}
