import type { RequestHandler } from 'express';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { CallDesk, SpokenToCaller } from '../desk/carrier.ts';
import { callerForm, callerOf, saidIn } from './caller-form.ts';
import { callerTwiml } from './caller-twiml.ts';
import { failureOf } from './failure.ts';
import { withinMs } from './within.ts';

export interface CallerSide {
  readonly desk: CallDesk;
  readonly publicUrl: string;
  readonly log: Logger;
  /** The document for a call that the desk cannot answer: static, so that it needs nothing that may be down. */
  readonly voiceFallback: string;
  /** How long the desk may take; the carrier gives up after 15 seconds. */
  readonly answerWithinMs: number;
}

const number = z
  .string()
  .regex(/^\d{1,3}$/)
  .transform(Number);
const turnQuery = z.object({ turn: number });
const waitQuery = z.object({ turn: number, count: number });
const statusForm = z.looseObject({ CallSid: callerForm.shape.CallSid, CallStatus: z.string() });

/** The carrier's words for a call that is over; others say that it goes on. */
const OVER: ReadonlySet<string> = new Set(['completed', 'busy', 'no-answer', 'failed', 'canceled']);

/** Answers with the desk's words, or, whatever happens to the desk, with the static document: nobody hears silence. */
async function answer(
  side: CallerSide,
  about: Readonly<Record<string, unknown>>,
  hidden: readonly string[],
  take: () => Promise<SpokenToCaller>,
  otherwise: string = side.voiceFallback,
): Promise<string> {
  try {
    return callerTwiml(await withinMs(side.answerWithinMs, take()), side.publicUrl);
  } catch (error) {
    side.log.error(
      { ...about, failure: failureOf(error, hidden) },
      'a turn of a call could not be answered; the caller gets a static document',
    );
    return otherwise;
  }
}

/** `POST /carrier/voice` and `POST /carrier/voice/turn?turn=N`: a call that comes in, and each turn of it. 400 without call or turn. */
export function callerTurn(side: CallerSide, first: 'first' | 'later'): RequestHandler {
  return async (request, response) => {
    const query =
      first === 'first' ? { success: true as const, data: { turn: 0 } } : turnQuery.safeParse(request.query);
    const form = callerForm.safeParse(request.body);
    if (!query.success || !form.success) {
      response
        .status(400)
        .type('text/plain')
        .send('A turn needs turn=NUMBER in its address and CallSid in its form.\n');
      return;
    }
    const { turn } = query.data;
    const { CallSid: callId, From: from } = form.data;
    const said = saidIn(form.data);
    const hidden = [...(said.came === 'speech' ? [said.words] : []), ...(from === undefined ? [] : [from])];
    const twiml = await answer(side, { callId, turn }, hidden, () =>
      side.desk.callerTurn({ callId, from: callerOf(from), turn, said }),
    );
    response.type('text/xml').send(twiml);
  };
}

/** `POST /carrier/voice/wait?turn=N&count=N`: what a caller hears while they wait in the queue. 400 without them. */
export function callerWaits(side: CallerSide): RequestHandler {
  return async (request, response) => {
    const query = waitQuery.safeParse(request.query);
    const form = callerForm.safeParse(request.body);
    if (!query.success || !form.success) {
      response.status(400).type('text/plain').send('Waiting needs turn=NUMBER and count=NUMBER in its address.\n');
      return;
    }
    const { CallSid: callId } = form.data;
    const waiting = { callId, ...query.data };
    // Someone who waits can be told nothing but to leave the queue: the turn after it has the whole document.
    const leave = callerTwiml({ sentences: [], after: { do: 'leave-queue' } }, side.publicUrl);
    const twiml = await answer(side, waiting, [], () => side.desk.callerWaits(waiting), leave);
    response.type('text/xml').send(twiml);
  };
}

/** `POST /carrier/voice/status`: a call that came in has ended. It may come late and twice. 400 without call and status. */
export function callerStatus(side: CallerSide): RequestHandler {
  return async (request, response) => {
    const form = statusForm.safeParse(request.body);
    if (!form.success) {
      response.status(400).type('text/plain').send('A report needs CallSid and CallStatus in its form.\n');
      return;
    }
    const { CallSid: callId, CallStatus: status } = form.data;
    if (OVER.has(status)) await side.desk.callerGone(callId);
    response.status(204).end();
  };
}

/** `POST /carrier/voice/fallback`: what a caller hears when the first address did not answer; served without the desk. */
export function callerFallback(side: CallerSide): RequestHandler {
  return (request, response) => {
    side.log.error(
      { code: (request.body as Record<string, unknown>)['ErrorCode'] },
      'the carrier asked for the fallback of a call',
    );
    response.type('text/xml').send(side.voiceFallback);
  };
}
