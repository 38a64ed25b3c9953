import { MORNING_HOUR } from '../../roster/trying.ts';
import { after, nextLocalHour } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { FlowOrder, Flows, Turn } from '../../flow/turn.ts';
import { flowOf } from '../../flow/book.ts';
import { noteRefill } from '../due/refill.ts';
import type { CalloutPlace } from '../callout/place.ts';
import { openCallout } from '../callout/callouts.ts';
import type { Conversation, Tx } from '../records.ts';
import { tellOffered } from '../callout/ringing.ts';
import { learnOutlet } from './outlets.ts';
import type { OutletNews } from './outlets.ts';
import type { Surroundings } from '../surroundings.ts';
import { silenceKey } from '../work-kinds.ts';

/** What a turn asked to be done is written into the records here, in the same transaction as the turn. */
export interface OrderContext {
  readonly desk: Surroundings;
  readonly flows: Flows;
  readonly conversation: Conversation;
  readonly place: CalloutPlace;
  readonly turn: Turn;
  /** The text that made the turn; left out where none did. */
  readonly said?: NonNullable<OutletNews['said']>;
  /** Hours since the bottle was filled, where the guest said so; filled now otherwise. */
  readonly filledHoursAgo?: number;
}

const TELLING: Readonly<Record<'cannot-call' | 'nobody-called' | 'all-well-said', string>> = {
  'cannot-call': 'They cannot call the emergency number themselves: please call the dispatch centre for them.',
  'nobody-called': 'They say nobody has called the emergency number yet.',
  'all-well-said': 'They say that all is well. Please speak with them before you close it.',
};

/** What a callout is about, in a technician's words. */
export function matterOf(flows: Flows, step: string, signs: readonly string[]): string {
  if (signs.length > 0) {
    const words: Readonly<Record<string, string>> = flows.book.phrases.signs;
    return signs.map((sign) => words[sign] ?? sign).join(', ');
  }
  return flows.book.flows.find((flow) => flow.flow === flowOf(step))?.matter ?? flowOf(step);
}

/** The step that a hand-over came from, not the one that hands over. */
function stepBehind({ turn, conversation }: OrderContext): string {
  const { trail } = (JSON.parse(conversation.state) as { context: { trail: readonly string[] } }).context;
  return trail.findLast((step) => !['person', 'opening'].includes(flowOf(step))) ?? turn.step;
}

function matterOfTurn(context: OrderContext, order: FlowOrder & { order: 'callout' }): string {
  const { flows, turn } = context;
  if (order.urgency === 'danger')
    return order.signs.length === 0 ? 'no answer to the danger questions' : matterOf(flows, turn.step, order.signs);
  return matterOf(flows, stepBehind(context), []);
}

/** The flow whose matter a storm or a tripped panel gives to a whole building. */
const POWER_FLOW = 'power';

/** Daybreak is at the property. */
function listenUntil(length: string, zone: string, now: Instant): Instant {
  return length === 'daybreak' ? nextLocalHour(now, zone, MORNING_HOUR) : after(now, length);
}

/** Asking after a fix is worth it soon after; danger and symptoms are asked about however late. */
const FIX_IS_OLD_AFTER = 'PT2H';

function lapseOfListening({ turn }: OrderContext, length: string, now: Instant): Instant | null {
  if (turn.inDanger || turn.ending !== 'settled' || length === 'daybreak') return null;
  return after(after(now, length), FIX_IS_OLD_AFTER);
}

async function carryOutOne(tx: Tx, context: OrderContext, order: FlowOrder, now: Instant): Promise<void> {
  const { desk, conversation, place } = context;
  switch (order.order) {
    case 'callout':
      await openCallout(
        desk,
        tx,
        {
          urgency: order.urgency,
          matter: matterOfTurn(context, order),
          conversation,
          place,
          cause: flowOf(stepBehind(context)) === POWER_FLOW ? 'power' : null,
        },
        now,
      );
      return;
    case 'listen':
      await tx.addWork({
        kind: 'silence',
        dueAt: listenUntil(order.after, place.property?.zone ?? desk.outfit.zone, now),
        notAfter: lapseOfListening(context, order.after, now),
        key: silenceKey(conversation.id),
        phone: null,
        danger: context.turn.inDanger,
        payload: {
          conversationId: conversation.id,
          guestMessages: conversation.guestMessages,
          ...(order.after === 'daybreak' ? { byTheClock: true } : {}),
        },
      });
      return;
    case 'note-refill':
      if (place.stay !== null) {
        await noteRefill(tx, desk.flows.book, place.stay, context.filledHoursAgo ?? 0, now);
      }
      return;
    case 'tell-technician':
      for (const callout of await tx.openCallouts(conversation.id)) {
        if (callout.urgency === 'danger') {
          await tellOffered(tx, callout, `Callout ${callout.id}: ${TELLING[order.what]} ${callout.brief}`, null, now);
        }
      }
      return;
    case 'note-outlet':
      await learnOutlet(
        desk,
        tx,
        { note: order.note, flows: context.flows, conversation, place, said: context.said ?? null },
        now,
      );
      await tx.addEntry({
        conversationId: conversation.id,
        at: now,
        who: 'desk',
        words: `outlet ${order.note}`,
        heard: null,
        step: context.turn.step,
        media: [],
        messageId: null,
      });
      return;
    default:
      order satisfies never;
  }
}

/** Writes all that a turn ordered. `conversation` is the one after the turn. */
export async function carryOutOrders(tx: Tx, context: OrderContext, now: Instant): Promise<void> {
  for (const order of context.turn.orders) await carryOutOne(tx, context, order, now);
}
