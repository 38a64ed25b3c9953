import { outletBeliefs, outletToTell } from '../../care/outlets.ts';
import type { OutletBelief } from '../../care/outlets.ts';
import { needsOf } from '../../flow/needs.ts';
import type { FlowOrder, Flows } from '../../flow/turn.ts';
import { msOf } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Language } from '../../words/heard.ts';
import type { CalloutPlace } from '../callout/place.ts';
import type { Conversation, OutletNoteOnRecord, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';

/** Stands for an outlet that works and that nobody has named. */
export const OTHER_WALL = 'other-wall';

const MS_PER_DAY = 86_400_000;

/** What is thought of a room's outlets at an instant. A note from later, after a clock was set back, is of now. */
export function beliefsAt(notes: readonly OutletNoteOnRecord[], now: Instant): readonly OutletBelief[] {
  return outletBeliefs(
    notes.map(({ place, worked, at }) => ({ place, worked, ageDays: Math.max(0, msOf(now) - msOf(at)) / MS_PER_DAY })),
  );
}

/** The outlet of a room that the next guest is told of; null where none is sure enough, or the room is not known. */
export async function knownOutletOf(
  tx: Tx,
  propertyId: number | null,
  room: string | null,
  now: Instant,
): Promise<string | null> {
  if (propertyId === null || room === null) return null;
  return outletToTell(beliefsAt(await tx.outletNotes(propertyId, room), now), OTHER_WALL);
}

/** "from the bed to the window": where it went is what counts. */
const WHERE_IT_WENT = /\b(?:from|desde)\b.*\b(?:to|over to|hacia|hasta|a)\b(?<there>.+)$/is;

/** What an outlet is next to, where a text names it. */
function outletNamed(desk: Surroundings, text: string, lang: Language): string | null {
  const there = WHERE_IT_WENT.exec(text)?.groups?.['there'] ?? text;
  const { answer } = desk.hear(there, { asked: 'outlet-place', lang });
  return typeof answer === 'string' && answer !== 'unsure' && answer !== 'no-answer' ? answer : null;
}

/** What the guest said before this text about where the unit stood; the latest place named. */
async function placeNamedBefore(
  desk: Surroundings,
  tx: Tx,
  { id, lang }: Conversation,
  text: string,
): Promise<string | null> {
  const said = (await tx.entries(id)).filter(({ who }) => who === 'guest').map(({ words }) => words);
  const before = said.at(-1) === text ? said.slice(0, -1) : said;
  return before.map((words) => outletNamed(desk, words, lang)).findLast((place) => place !== null) ?? null;
}

/** A turn that says something of an outlet, with what it takes to tell which. */
export interface OutletNews {
  readonly note: (FlowOrder & { order: 'note-outlet' })['note'];
  readonly flows: Flows;
  readonly conversation: Conversation;
  readonly place: CalloutPlace;
  /** The guest's text and the step that stood when it came; null where no text moved the conversation. */
  readonly said: { readonly text: string; readonly step: string | null; readonly knownOutlet: string | null } | null;
}

/** The outlet that the step which stood had told the guest to use. */
function toldAt(flows: Flows, said: NonNullable<OutletNews['said']>): string | null {
  const step = said.step === null ? undefined : flows.steps.get(said.step);
  return step !== undefined && needsOf(step).includes('known-outlet') ? said.knownOutlet : null;
}

/**
 * Keeps for the room what a turn found out about its outlets: under a name of the place from the closed list, and only
 * where the room is known. A working one that nobody named is one on another wall, until the guest says what it is next to.
 */
export async function learnOutlet(desk: Surroundings, tx: Tx, news: OutletNews, now: Instant): Promise<void> {
  const { note, flows, conversation, place, said } = news;
  const propertyId = place.property?.id ?? null;
  const room = place.stay?.room ?? conversation.room;
  if (propertyId === null || room === null || said === null) return;
  const about = { propertyId, room, at: now, conversationId: conversation.id };
  const named = outletNamed(desk, said.text, conversation.lang);
  const told = toldAt(flows, said);
  switch (note) {
    case 'works':
      if ((named ?? told) !== null) await tx.noteOutlet({ ...about, place: named ?? told ?? OTHER_WALL, worked: true });
      return;
    case 'dead': {
      const dead = told ?? named ?? (await placeNamedBefore(desk, tx, conversation, said.text));
      if (dead !== null) await tx.noteOutlet({ ...about, place: dead, worked: false });
      return;
    }
    case 'switched': {
      const stood = await placeNamedBefore(desk, tx, conversation, said.text);
      await tx.noteOutlet({ ...about, place: named ?? OTHER_WALL, worked: true });
      if (stood !== null && stood !== named) await tx.noteOutlet({ ...about, place: stood, worked: false });
      return;
    }
    case 'placed':
      if (named === null) return;
      await tx.dropOutletNote({ conversationId: conversation.id, place: OTHER_WALL, worked: true });
      await tx.noteOutlet({ ...about, place: named, worked: true });
      return;
    default:
      note satisfies never;
  }
}

/** Whether this turn found an outlet that works and nobody has said what it is next to: then it is asked, once. */
export function asksForOutlet(
  desk: Surroundings,
  turned: { readonly orders: readonly FlowOrder[]; readonly text: string; readonly lang: Language },
): boolean {
  const moved = turned.orders.some((order) => order.order === 'note-outlet' && order.note === 'switched');
  return moved && outletNamed(desk, turned.text, turned.lang) === null;
}
