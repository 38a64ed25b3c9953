import type { RequestHandler } from 'express';
import type { Logger } from 'pino';
import { z } from 'zod';
import type { TextDesk } from '../desk/carrier.ts';

const rowId = z
  .string()
  .regex(/^[1-9]\d{0,14}$/, 'must be the number that the desk put into the address')
  .transform(Number);

/** Which text the report is about: a reply given in a webhook's response, or one sent as work. */
const about = z.union([z.object({ reply: rowId }), z.object({ work: rowId })]);

const report = z.looseObject({ MessageStatus: z.string(), ErrorCode: z.string().optional() });

const ARRIVED = new Set(['delivered', 'read']);
const LOST = new Set(['failed', 'undelivered']);

/**
 * Takes the carrier's reports. They may come late, twice and in any order; each is passed on as it comes, because the
 * desk's calls do nothing the second time.
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
    if (LOST.has(status)) log.warn({ ...text.data, status, code }, 'the carrier could not deliver a text');
    if ('work' in text.data && LOST.has(status)) await desk.textFailed(text.data.work);
    if ('reply' in text.data) {
      if (status === 'sent') await desk.replySent(text.data.reply);
      if (ARRIVED.has(status)) await desk.replyConfirmed(text.data.reply);
      if (LOST.has(status)) await desk.replyFailed(text.data.reply);
    }
    response.status(204).end();
  };
}
