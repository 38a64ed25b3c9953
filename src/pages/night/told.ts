import type { FlowBook } from '../../flow/book.ts';
import type { Ending } from '../../flow/ending.ts';
import type { CalloutLine, NightLine } from '../records.ts';

/** What a night's line says, in words. */

export const ENDING_WORDS: Readonly<Record<Ending, string>> = {
  emergency: 'emergency number',
  'see-a-clinician': 'sent to a clinician',
  technician: 'handed to a technician',
  settled: 'settled by the guest',
  information: 'told what was asked',
  'gave-up': 'went quiet',
};

/** Flows that a conversation comes through whatever it is about. */
const NO_MATTER = new Set(['opening', 'person', 'danger', 'check-back']);

/** The matter of a flow in a technician's words. */
export function matterWords(book: FlowBook, flow: string): string {
  return book.flows.find((each) => each.flow === flow)?.matter ?? flow;
}

/** What a conversation was about: what its callout says, else the last matter it came to. */
export function matterOfLine(book: FlowBook, line: Pick<NightLine, 'flows' | 'callouts'>): string {
  const danger = line.callouts.find((callout) => callout.urgency === 'danger');
  if (danger !== undefined) return danger.matter;
  const flow = line.flows.findLast((each) => !NO_MATTER.has(each)) ?? line.flows.at(-1);
  if (flow !== undefined) return matterWords(book, flow);
  return line.callouts[0]?.matter ?? 'not sorted yet';
}

/** Whether there was danger, for the mark that no reader may miss. */
export function wasDanger(line: Pick<NightLine, 'callouts' | 'ending' | 'flows'>): boolean {
  return line.ending === 'emergency' || line.callouts.some((callout) => callout.urgency === 'danger');
}

function calloutState({ status, takenBy, urgency }: CalloutLine): string {
  const whom = takenBy ?? 'someone';
  if (status === 'taken') return `${whom} has it`;
  if (status === 'done') return takenBy === null ? 'closed untaken' : `${whom} took it and closed it`;
  if (status === 'held') return 'held for the morning';
  return urgency === 'danger' ? 'RINGING, nobody has it' : 'ringing, nobody has it';
}

/** Who took it: a sentence for each callout. */
export function takenWords(line: Pick<NightLine, 'callouts'>): readonly string[] {
  return line.callouts.map((callout) => `Callout ${callout.id}: ${calloutState(callout)}`);
}

/** Where it was: "Marlstone Lodge 204, unit NB-01". */
export function placeWords(line: Pick<NightLine, 'property' | 'room' | 'tag'>): string {
  const where = [line.property, line.room].filter((part) => part !== null).join(' ');
  return [where === '' ? 'place not known' : where, line.tag === null ? '' : `unit ${line.tag}`]
    .filter((part) => part !== '')
    .join(', ');
}
