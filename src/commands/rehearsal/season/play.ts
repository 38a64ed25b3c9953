import { standingStep } from '../../../desk/guest/listening.ts';
import type { Conversation } from '../../../desk/records.ts';
import { flowOf } from '../../../flow/book.ts';
import type { FlowBook } from '../../../flow/book.ts';
import { flowsOf, listeningAt } from '../../../flow/turn.ts';
import type { Flows } from '../../../flow/turn.ts';
import { instantAt, daysLater } from '../../../time/calendar.ts';
import { after } from '../../../time/instant.ts';
import type { Hear } from '../../../words/heard.ts';
import { openDemoDesk } from '../../demo-desk.ts';
import type { DemoDesk } from '../../demo-desk.ts';
import { deskDoor } from '../doors.ts';
import type { Door } from '../doors.ts';
import { FAULTS } from '../faults.ts';
import type { Fault } from '../faults.ts';
import { chanceFrom } from '../../trials/chance.ts';
import type { Chance } from '../../trials/chance.ts';
import { MANNERS, sayTo } from '../guest.ts';
import type { Guest } from '../guest.ts';
import type { Phrasebook } from '../labelled.ts';
import type { Outcome } from '../many.ts';
import { Agenda } from './agenda.ts';
import { tellSeason } from './read.ts';
import type { Season, SeasonFault } from './read.ts';

/** What a season is played with. */
export interface SeasonStage {
  readonly hear: Hear;
  readonly book: FlowBook;
  readonly books: Readonly<Record<'en' | 'es', Phrasebook>>;
}

/** What came of a planned fault. */
export interface SeasonOutcome extends Outcome {
  readonly planned: SeasonFault;
}

const PATIENCE = 20;
/** A guest takes some seconds for a text. */
const BETWEEN_TEXTS = 'PT20S';
/** Guests who do as they are asked; each of the other manners is one in so many of the rest. */
const PLAIN_IN_TEN = 6;

/** What is true at this guest's: the fault, and in a room with a switched outlet also where the unit works. */
function truthOf({ fault: name, outlet }: SeasonFault): Fault {
  const fault = FAULTS.find((each) => each.name === name);
  if (fault === undefined) throw new Error(`${name} is no fault that guests can be made up for`);
  if (outlet === null || name !== 'switched outlet') return fault;
  return { ...fault, truth: { ...fault.truth, 'power.known-outlet': 'short-beep' } };
}

interface Scene {
  readonly demo: DemoDesk;
  readonly door: Door;
  readonly agenda: Agenda;
  readonly flows: Flows;
  readonly stage: SeasonStage;
  readonly chance: Chance;
}

async function conversationOf({ demo }: Scene, phone: string): Promise<Conversation> {
  const latest = await demo.records.read((tx) => tx.latestConversation(phone));
  if (latest === null) throw new Error('a text left no conversation');
  return latest;
}

function judged(fault: Fault, { ending }: Conversation, path: readonly string[]): Outcome['how'] {
  if (ending === 'emergency') return 'false-emergency';
  if (ending === null) return 'left';
  const flows = path.map(flowOf);
  if (!flows.some((flow) => fault.home.includes(flow)) && !flows.includes('person')) return 'wrong-turn';
  return ending === 'settled' || ending === 'information' ? 'settled' : 'handed-over';
}

/** What the guest says to what stands before them; null for silence, or where nothing is asked any more. */
function answerTo(scene: Scene, planned: SeasonFault, guest: Guest, conversation: Conversation): string | null {
  const { flows, stage, chance } = scene;
  const step = standingStep(flows, conversation);
  if (step === null) return null;
  const { asked: kind = null, choices = [] } = listeningAt(flows, step);
  if (kind === 'outlet-place') return planned.outlet?.words ?? null;
  if (conversation.ending !== null) return null;
  return sayTo({ step, kind, choices }, guest, stage.books[guest.lang], chance);
}

/** One guest's night, from the first text until nothing more is asked. */
async function playFault(scene: Scene, planned: SeasonFault): Promise<SeasonOutcome> {
  const { door, agenda, stage, chance, demo, flows } = scene;
  const fault = truthOf(planned);
  const plain = chance.below(10) < PLAIN_IN_TEN;
  const manner = plain ? 'terse' : (chance.pick(MANNERS) ?? 'terse');
  const guest: Guest = { fault, manner, lang: planned.lang };
  const topic = chance.pick(fault.topics) ?? '';
  let words: string | null = chance.pick(stage.books[planned.lang].openings(topic)) ?? topic;
  const path: string[] = [];
  let said = 0;
  while (words !== null && said < PATIENCE) {
    await door.say({ id: `${planned.at}-${planned.phone}-${said}`, from: planned.phone, words });
    said += 1;
    await agenda.goTo(after(demo.now(), BETWEEN_TEXTS));
    const conversation = await conversationOf(scene, planned.phone);
    const step = standingStep(flows, conversation);
    if (step !== null) path.push(step);
    words = answerTo(scene, planned, guest, conversation);
  }
  const how = judged(fault, await conversationOf(scene, planned.phone), path);
  return { planned, fault: fault.name, how, guestMessages: said };
}

/** Every night of a season through the real desk, its records told by the import; `look` sees them before they go. */
export async function playSeason<T>(
  stage: SeasonStage,
  season: Season,
  look: (demo: DemoDesk, outcomes: readonly SeasonOutcome[]) => Promise<T>,
): Promise<T> {
  const { truth, faults } = season;
  const demo = await openDemoDesk({
    hear: stage.hear,
    book: stage.book,
    startsAt: instantAt(truth.firstDay, '12:00', truth.zone),
    fill: (records, now) => tellSeason(records, season, now),
  });
  const door = deskDoor(demo);
  try {
    const scene: Scene = {
      demo,
      door,
      agenda: new Agenda(demo),
      flows: flowsOf(stage.book),
      stage,
      chance: chanceFrom(truth.seed),
    };
    const outcomes: SeasonOutcome[] = [];
    for (const planned of faults) {
      await scene.agenda.goTo(planned.at);
      outcomes.push(await playFault(scene, planned));
    }
    await scene.agenda.goTo(instantAt(daysLater(truth.firstDay, truth.nights), '12:00', truth.zone));
    return await look(demo, outcomes);
  } finally {
    await door.close();
    await demo.close();
  }
}
