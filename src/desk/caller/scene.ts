import { DANGER_FLOW, OPENING, flowOf } from '../../flow/book.ts';
import type { StepId } from '../../flow/book.ts';
import type { Flows } from '../../flow/turn.ts';
import type { Instant } from '../../time/instant.ts';
import type { Language } from '../../words/heard.ts';
import { textsBlocked } from '../callout/brief-of.ts';
import { placeOf } from '../callout/place-of.ts';
import { flowsOfVersion } from '../flow-versions.ts';
import { goesOn } from '../guest/conversation-life.ts';
import { factsOf } from '../guest/facts-of.ts';
import { standingStep } from '../guest/listening.ts';
import { knownOutletOf } from '../guest/outlets.ts';
import { findStay } from '../guest/whereabouts.ts';
import type { Conversation, IncomingCall, Tx } from '../records.ts';
import type { Surroundings } from '../surroundings.ts';
import { CallWords } from './prompts.ts';

/** Where a caller stands before they say anything: the conversation that goes on, and the words for it. */
export interface Scene {
  readonly conversation: Conversation | null;
  /** The step that stands; null before anything was said, and where a stored state cannot be restored. */
  readonly step: StepId | null;
  readonly words: CallWords;
  /** The rental, where one is known. */
  readonly rentalId: number | null;
}

async function goesOnFor(tx: Tx, latest: Conversation | null, now: Instant): Promise<Conversation | null> {
  if (latest === null) return null;
  const open = await tx.openCallouts(latest.id);
  return goesOn(latest, open, { latestRoom: null, namedRoom: undefined }, now) ? latest : null;
}

/** What the desk knows of a caller now, and the words in their language. */
export async function sceneOf(
  desk: Surroundings,
  tx: Tx,
  call: Pick<IncomingCall, 'phone'>,
  { lang, tag }: { readonly lang: Language; readonly tag: string | undefined },
  now: Instant,
): Promise<Scene> {
  const conversation = await goesOnFor(tx, await tx.latestConversation(call.phone), now);
  const flows: Flows = conversation === null ? desk.flows : await flowsOfVersion(desk, tx, conversation.flowHash);
  const step = conversation === null ? null : standingStep(flows, conversation);
  const place =
    conversation?.rentalId == null
      ? { stay: await findStay(tx, call.phone, tag === undefined ? {} : { tag }, now), property: null }
      : await placeOf(tx, conversation);
  const room = place.stay?.room ?? conversation?.room ?? null;
  const property = place.stay?.property ?? place.property;
  const knownOutlet = await knownOutletOf(tx, property?.id ?? null, room, now);
  const facts = factsOf(desk.outfit, { ...place, room, knownOutlet }, await tx.settingSheet(), now);
  const canText = !(await textsBlocked(tx, call.phone));
  return {
    conversation,
    step,
    words: new CallWords({ lang, facts, flows: step === null ? desk.flows : flows, today: desk.flows.book, canText }),
    rentalId: place.stay?.rentalId ?? null,
  };
}

/** Whether the emergency stands: its question is whether someone has called. */
export function standsInEmergency({ step, words }: Scene): boolean {
  return step !== null && flowOf(step) === DANGER_FLOW && words.step(step)?.hears === 'called';
}

/** Whether the danger questions stand, whose silence means that perhaps nobody can answer. */
export function standsAtDangerQuestions({ step, words }: Scene): boolean {
  return step !== null && flowOf(step) === DANGER_FLOW && words.step(step)?.hears === 'yes-no';
}

/** Danger signs that a conversation's state has heard so far. */
export function signsOf(conversation: Conversation | null): readonly string[] {
  if (conversation === null) return [];
  const { context } = JSON.parse(conversation.state) as { context?: { signs?: readonly string[] } };
  return context?.signs ?? [];
}

/** The step whose answers are listened for: of one who has not said anything yet, what is wrong. */
export const listenedFor = (step: StepId | null): StepId => step ?? OPENING;
