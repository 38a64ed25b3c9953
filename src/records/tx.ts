import type { Tx } from '../desk/records.ts';
import * as callouts from './callouts.ts';
import * as conversations from './conversations.ts';
import type { Handle } from './engine.ts';
import * as flowVersions from './flow-versions.ts';
import * as guests from './guests.ts';
import * as messages from './messages.ts';
import * as people from './people.ts';
import * as stays from './stays.ts';
import * as work from './work.ts';

/** What the desk asks of one transaction, done by the modules of queries. */
export function txOn(handle: Handle): Tx {
  return {
    claimMessage: (message) => messages.claimMessage(handle, message),
    storedReply: (id) => messages.storedReply(handle, id),
    settleMessage: (id, reply, replyEntryId) => messages.settleMessage(handle, id, reply, replyEntryId),

    lockPhone: (phone) => guests.lockPhone(handle, phone),
    savePhone: (guest) => guests.savePhone(handle, guest),

    staysOf: (phone, at) => stays.staysOf(handle, phone, at),
    staysAt: (place, at) => stays.staysAt(handle, place, at),
    stay: (rentalId) => stays.stay(handle, rentalId),
    property: (id) => stays.property(handle, id),
    settingSheet: () => stays.settingSheet(handle),

    latestConversation: (phone) => conversations.latestConversation(handle, phone),
    conversation: (id) => conversations.conversation(handle, id),
    openConversation: (opened) => conversations.openConversation(handle, opened),
    saveConversation: (changed) => conversations.saveConversation(handle, changed),
    addEntry: (entry) => conversations.addEntry(handle, entry),
    entries: (conversationId) => conversations.entries(handle, conversationId),

    roster: () => people.roster(handle),
    personByPhone: (phone) => people.personByPhone(handle, phone),

    openCallout: (opened) => callouts.openCallout(handle, opened),
    callout: (id) => callouts.callout(handle, id),
    saveCallout: (changed) => callouts.saveCallout(handle, changed),
    callouts: (conversationId) => callouts.callouts(handle, conversationId),
    openCallouts: (conversationId) => callouts.openCallouts(handle, conversationId),
    offerCallout: (offer) => callouts.offerCallout(handle, offer),
    calloutsOfferedTo: (personId) => callouts.calloutsOfferedTo(handle, personId),
    offersOf: (calloutId) => callouts.offersOf(handle, calloutId),

    addWork: (added) => work.addWork(handle, added),
    dropWork: (key, at) => work.dropWork(handle, key, at),
    hastenWork: (key, at) => work.hastenWork(handle, key, at),
    delayWork: (key, until, now) => work.delayWork(handle, key, until, now),
    work: (id) => work.workById(handle, id),

    keepFlowVersion: (hash, documents, at) => flowVersions.keepFlowVersion(handle, hash, documents, at),
    flowVersion: (hash) => flowVersions.flowVersion(handle, hash),
  };
}
