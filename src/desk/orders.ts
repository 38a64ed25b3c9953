import { after, nextLocalHour } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { FlowOrder, Flows, Turn } from '../flow/turn.ts';
import { flowOf } from '../flow/book.ts';
import { MORNING_HOUR, openCallout, tellOffered } from './callouts.ts';
import type { CalloutPlace } from './callouts.ts';
import type { Conversation, Tx } from './records.ts';
import { silenceKey } from './work-kinds.ts';

/** What a turn asked to be done is written into the records here, in the same transaction as the turn. */
export interface OrderContext {
  readonly flows: Flows;
  readonly conversation: Conversation;
  readonly place: CalloutPlace;
  readonly zone: string;
  readonly turn: Turn;
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

/** The matter of a hand-over is the flow it came from, not the flow that hands over. */
function matterOfTurn({ flows, turn, conversation }: OrderContext, order: FlowOrder & { order: 'callout' }): string {
  if (order.urgency === 'danger')
    return order.signs.length === 0 ? 'no answer to the danger questions' : matterOf(flows, turn.step, order.signs);
  const { trail } = (JSON.parse(conversation.state) as { context: { trail: readonly string[] } }).context;
  const from = trail.findLast((step) => !['person', 'opening'].includes(flowOf(step)));
  return matterOf(flows, from ?? turn.step, []);
}

/** Daybreak is at the property. */
function listenUntil(length: string, zone: string, now: Instant): Instant {
  return length === 'daybreak' ? nextLocalHour(now, zone, MORNING_HOUR) : after(now, length);
}

async function carryOutOne(tx: Tx, context: OrderContext, order: FlowOrder, now: Instant): Promise<void> {
  const { conversation, place, zone } = context;
  switch (order.order) {
    case 'callout':
      await openCallout(
        tx,
        { urgency: order.urgency, matter: matterOfTurn(context, order), conversation, place, zone },
        now,
      );
      return;
    case 'listen':
      await tx.addWork({
        kind: 'silence',
        dueAt: listenUntil(order.after, place.property?.zone ?? zone, now),
        notAfter: null,
        key: silenceKey(conversation.id),
        phone: null,
        danger: context.turn.inDanger,
        payload: { conversationId: conversation.id, guestMessages: conversation.guestMessages },
      });
      return;
    case 'tell-technician':
      for (const callout of await tx.openCallouts(conversation.id)) {
        if (callout.urgency === 'danger') {
          await tellOffered(tx, callout, `Callout ${callout.id}: ${TELLING[order.what]} ${callout.brief}`, null, now);
        }
      }
      return;
    case 'note-outlet':
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
