import type { RequestHandler } from 'express';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { TextDesk, TextState } from '../desk/carrier.ts';
import { OPTED_OUT } from './provider-codes.ts';

const rowId = z
  .string()
  .regex(/^[1-9]\d{0,14}$/, 'must be the number that the desk put into the address')
  .transform(Number);

/** Which text the report is about: a reply given in a webhook's response, or one sent as work. */
const about = z.union([z.object({ reply: rowId }), z.object({ work: rowId })]);

const report = z.looseObject({ MessageStatus: z.string(), ErrorCode: z.string().optional() });

/** The carrier's words for how a text fares, and what they mean here. */
const STATES: ReadonlyMap<string, TextState> = new Map([
  ['accepted', 'waiting'],
  ['scheduled', 'waiting'],
  ['queued', 'waiting'],
  ['sending', 'waiting'],
  ['sent', 'handed-on'],
  ['delivered', 'arrived'],
  ['read', 'arrived'],
  ['failed', 'lost'],
  ['undelivered', 'lost'],
  ['canceled', 'lost'],
]);

/**
 * Takes the carrier's reports. They may come late, twice and in any order; each is passed on as it comes, because the desk
 * keeps the state of each text. A word that is not known here says nothing about the text, and is only logged.
 */
export function textStatus(desk: TextDesk, log: Logger): RequestHandler {
  return async (request, response) => {
    const text = about.safeParse(request.query);
    const fate = report.safeParse(request.body);
    if (!text.success || !fate.success) {
      const problem = 'A report needs reply=NUMBER or work=NUMBER in its address and MessageStatus in its form.';
      response.status(400).type('text/plain').send(`${problem}\n`);
      return;
    }
    const { MessageStatus: status, ErrorCode: code } = fate.data;
    const state = STATES.get(status);
    if (state === undefined) log.warn({ ...text.data, status }, 'a report has a word that is not known here');
    if (state === 'lost') log.warn({ ...text.data, status, code }, 'the carrier could not deliver a text');
    if (state !== undefined) {
      await desk.textReported({ about: text.data, state, optedOut: Number(code) === OPTED_OUT });
    }
    response.status(204).end();
  };
}
