import MessagingResponse from 'twilio/lib/twiml/MessagingResponse.js';
import { SaxesParser } from 'saxes';
import type { Reply } from '../desk/carrier.ts';
import { printable } from './printable.ts';

/** Path to which the carrier reports how a text fared; its query says which. */
export const STATUS_PATH = '/carrier/text-status';

/**
 * The reply as TwiML, for the webhook's own response; without text an empty `<Response/>`. A reply with an entry asks
 * for reports on its delivery.
 */
export function replyTwiml(reply: Reply, publicUrl: string): string {
  const response = new MessagingResponse();
  if (reply.text !== null) {
    const action = `${publicUrl}${STATUS_PATH}?reply=${reply.entryId}`;
    response.message(reply.entryId === null ? {} : { action, method: 'POST' }, printable(reply.text));
  }
  return response.toString();
}

/**
 * The texts in a TwiML answer, in order.
 * @throws Error when it is not well-formed XML.
 */
export function textsIn(twiml: string): string[] {
  const texts: string[] = [];
  let text: string | null = null;
  const parser = new SaxesParser();
  parser.on('opentag', (tag) => {
    if (tag.name === 'Message') text = '';
  });
  parser.on('text', (words) => {
    if (text !== null) text += words;
  });
  parser.on('closetag', (tag) => {
    if (tag.name === 'Message' && text !== null) texts.push(text);
    if (tag.name === 'Message') text = null;
  });
  parser.write(twiml).close();
  return texts;
}
