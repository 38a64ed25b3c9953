import { flowsOf } from '../flow/turn.ts';
import type { Flows } from '../flow/turn.ts';
import type { FlowBook } from '../flow/book.ts';
import type { Tx } from './records.ts';
import type { Surroundings } from './surroundings.ts';

/** Machines of flow versions that conversations are still on; a book never changes under its hash. */
const compiled = new Map<string, Flows>();
const MOST_COMPILED = 20;

/**
 * The flows that a conversation began with, so that an edit at noon does not break the guest at noon. Today's flows where
 * that version is not to be had: the state is then looked at by whoever restores it.
 */
export async function flowsOfVersion(desk: Surroundings, tx: Tx, hash: string): Promise<Flows> {
  if (hash === desk.flowHash) return desk.flows;
  const ready = compiled.get(hash);
  if (ready !== undefined) return ready;
  const book = await tx.flowVersion(hash);
  if (book === null || book === undefined) return desk.flows;
  const flows = flowsOf(book as FlowBook);
  if (compiled.size >= MOST_COMPILED) compiled.delete(compiled.keys().next().value ?? '');
  compiled.set(hash, flows);
  return flows;
}
