import type { ReadDocument } from '../reading/yaml.ts';
import type { FlowBook } from './book.ts';
import type { EmergencyWords, FlowDocument, Limits, Phrases, Voice } from './document.ts';
import type { SymptomTable } from './symptom-table.ts';

/** The book with the place in the files of everything it says. */
export interface ReadFlowBook {
  readonly book: FlowBook;
  readonly flows: readonly ReadDocument<FlowDocument>[];
  readonly phrases: ReadDocument<Phrases>;
  readonly emergency: ReadDocument<EmergencyWords>;
  readonly voice: ReadDocument<Voice>;
  readonly limits: ReadDocument<Limits>;
  readonly symptomTable: ReadDocument<SymptomTable>;
}
