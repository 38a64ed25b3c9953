import { expect } from 'vitest';
import type { OutboundCall } from '../../src/desk/carrier.ts';
import type { NightDesk } from './night-desk.ts';
import { postSigned } from './signed-posts.ts';

/** What a call's turn was answered with: the words, and whether a key is waited for. */
export interface Heard {
  readonly words: string;
  readonly waits: boolean;
  readonly twiml: string;
}

const unescaped = (xml: string): string =>
  xml.replaceAll('&quot;', '"').replaceAll('&apos;', "'").replaceAll('&amp;', '&');

/** The last call that was placed to a phone. */
export function callTo(desk: NightDesk, phone: string): OutboundCall {
  return desk.carrier.calls.findLast((call) => call.to === phone) ?? expect.fail(`nobody rang ${phone}`);
}

export function callsTo(desk: NightDesk, phone: string): number {
  return desk.carrier.calls.filter((call) => call.to === phone).length;
}

/** One turn of a call, as the carrier would ask for it; and whatever is due after it. */
export async function turn(
  desk: NightDesk,
  { workId }: OutboundCall,
  number: number,
  form: { readonly Digits?: string; readonly AnsweredBy?: string } = {},
): Promise<Heard> {
  const posted = { CallSid: `CA${workId}`, CallStatus: 'in-progress', ...form };
  const { body } = await postSigned(desk.here, `/carrier/call/turn?call=${workId}&turn=${number}`, posted);
  await desk.pass('PT0S');
  const words = [...body.matchAll(/<Say[^>]*>([^<]*)<\/Say>/g)].map((match) => unescaped(match[1] ?? '')).join(' ');
  return { words, waits: body.includes('<Gather'), twiml: body };
}

/** The carrier's report on how a call ended; and whatever is due after it. */
export async function ended(desk: NightDesk, { workId }: OutboundCall, status: string): Promise<void> {
  const form = { CallSid: `CA${workId}`, CallStatus: status };
  await postSigned(desk.here, `/carrier/call/status?call=${workId}`, form);
  await desk.pass('PT0S');
}
