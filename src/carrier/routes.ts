import express from 'express';
import type { RequestHandler, Router } from 'express';
import { instantOfMs } from '../time/instant.ts';
import type { Answering } from './answer.ts';
import { answerText } from './answer.ts';
import { callerFallback, callerStatus, callerTurn, callerWaits } from './caller-routes.ts';
import {
  VOICE_FALLBACK_PATH,
  VOICE_PATH,
  VOICE_STATUS_PATH,
  VOICE_TURN_PATH,
  VOICE_WAIT_PATH,
} from './caller-twiml.ts';
import { callStatus, callTurn } from './call-routes.ts';
import { CALL_STATUS_PATH, TURN_PATH } from './call-twiml.ts';
import type { SignedUnder } from './signature.ts';
import { requireSignature } from './signature.ts';
import { textStatus } from './text-status.ts';
import { readTextForm } from './text-form.ts';
import { failureOf } from './failure.ts';
import { STATUS_PATH, replyTwiml } from './twiml.ts';
import type { CallDesk, Inbound, Reply, TextDesk } from '../desk/carrier.ts';

/** A text of 1,600 emoji with ten pictures is about 25 kB as a form. */
const LARGEST_FORM = '64kb';
const ANSWER_WITHIN_MS = 10_000;
const SILENCE: Reply = { text: null, entryId: null };

export interface CarrierSide
  extends
    SignedUnder,
    Pick<Answering, 'spool' | 'log'>,
    Partial<Pick<Answering, 'now' | 'answerWithinMs' | 'onAnswered'>> {
  readonly desk: TextDesk & CallDesk;
  /** What a caller hears when the desk cannot answer. */
  readonly voiceFallback: string;
}

/** A handler for a signed text form: 400 when it is none, silence for machines, else TwiML with what `take` gets. */
function textHandler(side: CarrierSide, take: (inbound: Inbound) => Promise<Reply>): RequestHandler {
  const answering: Answering = {
    ...side,
    now: side.now ?? (() => instantOfMs(Date.now())),
    answerWithinMs: side.answerWithinMs ?? ANSWER_WITHIN_MS,
  };
  return async (request, response) => {
    const read = readTextForm(request.body);
    if (read.kind === 'invalid') {
      side.log.error({ problem: read.problem }, 'refused a signed form that is no text');
      response.status(400).type('text/plain').send(`${read.problem}\n`);
      return;
    }
    const reply = read.kind === 'text' ? await answerText(read.inbound, request.body, answering, take) : SILENCE;
    response.type('text/xml').send(replyTwiml(reply, side.publicUrl));
  };
}

/**
 * What the carrier calls: `POST /carrier/text` for each text; `POST /carrier/fallback` when the first could not be
 * reached or did not answer; `POST /carrier/text-status` with the fate of what was sent; `POST /carrier/call/turn` for the
 * words of a call the desk placed, and `POST /carrier/call/status` with how it ended; `POST /carrier/voice` for each call
 * that comes in, and what follows below it. All of it signed, else 403; a form that is too large is 413.
 */
export function carrierRoutes(side: CarrierSide): Router {
  const { desk, log } = side;
  const genuine = [express.urlencoded({ extended: false, limit: LARGEST_FORM }), requireSignature(side, log)];

  /** The first delivery may have been answered after the carrier stopped waiting: its reply is in the records then. */
  async function storedOrReceive(inbound: Inbound): Promise<Reply> {
    try {
      const stored = await desk.storedReply(inbound.id);
      if (stored !== null) return stored;
    } catch (error) {
      log.error({ messageId: inbound.id, failure: failureOf(error) }, 'the stored reply could not be read');
    }
    return desk.receive(inbound);
  }

  const router = express.Router();
  router.post(
    '/carrier/text',
    genuine,
    textHandler(side, (inbound) => desk.receive(inbound)),
  );
  router.post('/carrier/fallback', genuine, textHandler(side, storedOrReceive));
  router.post(STATUS_PATH, genuine, textStatus(desk, log));
  router.post(TURN_PATH, genuine, callTurn(desk, side.publicUrl, log));
  router.post(CALL_STATUS_PATH, genuine, callStatus(desk, log));
  const callers = { ...side, answerWithinMs: side.answerWithinMs ?? ANSWER_WITHIN_MS };
  router.post(VOICE_PATH, genuine, callerTurn(callers, 'first'));
  router.post(VOICE_TURN_PATH, genuine, callerTurn(callers, 'later'));
  router.post(VOICE_WAIT_PATH, genuine, callerWaits(callers));
  router.post(VOICE_STATUS_PATH, genuine, callerStatus(callers));
  router.post(VOICE_FALLBACK_PATH, genuine, callerFallback(callers));
  return router;
}
