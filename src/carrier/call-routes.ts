import type { RequestHandler } from 'express';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { CallDesk, CallReport, Spoken } from '../desk/carrier.ts';
import { spokenTwiml } from './call-twiml.ts';
import { failureOf } from './failure.ts';
import { isMachine } from './answered-by.ts';
import { wasPutThrough } from './put-through.ts';

const id = z.string().regex(/^[1-9]\d{0,14}$/);
const turnNumber = z.string().regex(/^\d{1,3}$/);

const turnQuery = z.object({ call: id.transform(Number), turn: turnNumber.transform(Number) });
const turnForm = z.looseObject({
  Digits: z.string().optional(),
  AnsweredBy: z.string().optional(),
  DialCallStatus: z.string().optional(),
});
const statusQuery = z.object({ call: id.transform(Number) });
const statusForm = z.looseObject({ CallStatus: z.string() });

/** The carrier's words for how a call ended; others say that it goes on. */
const OUTCOMES: ReadonlyMap<string, CallReport['outcome']> = new Map([
  ['completed', 'completed'],
  ['busy', 'busy'],
  ['no-answer', 'no-answer'],
  ['failed', 'failed'],
  ['canceled', 'failed'],
]);

/** What is said when the desk cannot be asked. Nobody is left in silence, and nothing is promised. */
const FAULT: Spoken = {
  lang: 'en',
  sentences: [
    'The night desk has a fault and cannot go on with this call. Please read your texts. If anyone is in danger, call the emergency number now.',
  ],
  nextTurn: null,
};

/** `POST /carrier/call/turn`: the words of one turn of a call, after the key that was pressed. 400 without call and turn. */
export function callTurn(desk: CallDesk, publicUrl: string, log: Logger): RequestHandler {
  return async (request, response) => {
    const query = turnQuery.safeParse(request.query);
    const form = turnForm.safeParse(request.body);
    if (!query.success || !form.success) {
      response.status(400).type('text/plain').send('A turn needs call=NUMBER and turn=NUMBER in its address.\n');
      return;
    }
    const { call, turn } = query.data;
    const { Digits: digits = '', AnsweredBy: answeredBy, DialCallStatus: dialled } = form.data;
    let spoken = FAULT;
    try {
      spoken = await desk.callTurn({
        call,
        turn,
        digits: digits === '' ? null : digits,
        machine: turn === 0 && isMachine(answeredBy),
        ...(dialled === undefined ? {} : { putThrough: wasPutThrough(dialled) }),
      });
    } catch (error) {
      log.error({ call, turn, failure: failureOf(error) }, 'a turn of a call could not be answered');
    }
    response.type('text/xml').send(spokenTwiml(spoken, call, publicUrl));
  };
}

/** `POST /carrier/call/status`: how a call ended. It may come late and twice. 400 without call and status. */
export function callStatus(desk: CallDesk, log: Logger): RequestHandler {
  return async (request, response) => {
    const query = statusQuery.safeParse(request.query);
    const form = statusForm.safeParse(request.body);
    if (!query.success || !form.success) {
      const problem = 'A report on a call needs call=NUMBER in its address and CallStatus in its form.';
      response.status(400).type('text/plain').send(`${problem}\n`);
      return;
    }
    const { call } = query.data;
    const outcome = OUTCOMES.get(form.data.CallStatus);
    log.info({ call, status: form.data.CallStatus }, 'a report on a call');
    if (outcome !== undefined) await desk.callEnded({ call, outcome });
    response.status(204).end();
  };
}
