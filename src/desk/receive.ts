import type { Instant } from '../time/instant.ts';
import type { Inbound, Reply } from './carrier.ts';
import { answerDrill } from './due/drill.ts';
import { answerGuest } from './guest/guest-text.ts';
import type { Tx } from './records.ts';
import { changeRoster } from './callout/roster-change.ts';
import type { Surroundings } from './surroundings.ts';
import { carryOut, whatWouldWork } from './callout/technician.ts';
import { readCommand } from './callout/technician-command.ts';

/**
 * One text, one transaction: the message id, the phone's row, what was heard, the turn, and all of it written together or
 * not at all. The reply is stored with the message id, so that a repeat gets the same one.
 */
export async function receiveText(desk: Surroundings, tx: Tx, inbound: Inbound): Promise<Reply> {
  const now = desk.now();
  const claim = await tx.claimMessage({ id: inbound.id, phone: inbound.from, at: now });
  if (!claim.fresh) return { text: claim.reply, entryId: claim.replyEntryId };
  const phone = await tx.lockPhone(inbound.from);
  const reply = (await asTechnician(desk, tx, inbound, now)) ?? (await answerGuest(desk, tx, inbound, phone, now));
  await tx.settleMessage(inbound.id, reply.text, reply.entryId);
  return reply;
}

/**
 * A technician's text; null when these are a guest's words, as they are from a phone to which nothing was offered. What is no
 * command gets a short answer with what would work; but danger is danger, whoever names it, and STOP is STOP.
 */
async function asTechnician(desk: Surroundings, tx: Tx, inbound: Inbound, now: Instant): Promise<Reply | null> {
  const person = await tx.personByPhone(inbound.from);
  if (person === null) return null;
  const drilled = await answerDrill(tx, inbound, now);
  if (drilled !== null) return drilled;
  const change = await changeRoster(desk, tx, person, inbound.text, now);
  if (change !== null) return { text: change, entryId: null };
  const offered = await tx.calloutsOfferedTo(person.id);
  if (offered.length === 0) return null;
  const command = readCommand(inbound.text);
  if (command !== null) return { text: await carryOut(desk, tx, person, command, offered, now), entryId: null };
  const heard = desk.hear(inbound.text);
  if (heard.danger !== 'none' || heard.keyword !== null || inbound.optOut !== undefined) return null;
  return { text: whatWouldWork(person, inbound.text, offered), entryId: null };
}
