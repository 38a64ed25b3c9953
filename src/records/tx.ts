import type { Tx } from '../desk/records.ts';
import * as calloutLinks from './callout-links.ts';
import * as callouts from './callouts.ts';
import * as conversations from './conversations.ts';
import * as drills from './drills.ts';
import type { Handle } from './engine.ts';
import * as flowVersions from './flow-versions.ts';
import * as guests from './guests.ts';
import { keepingOn } from './keeping.ts';
import * as incomingCalls from './incoming-calls.ts';
import * as messages from './messages.ts';
import * as nights from './nights.ts';
import * as outlets from './outlets.ts';
import * as people from './people.ts';
import * as stays from './stays.ts';
import * as textStates from './text-states.ts';
import * as work from './work.ts';
import * as workTimes from './work-times.ts';

/** What the desk asks of one transaction, done by the modules of queries. */
export function txOn(handle: Handle): Tx {
  return {
    claimMessage: (message) => messages.claimMessage(handle, message),
    storedReply: (id) => messages.storedReply(handle, id),
    settleMessage: (id, reply, replyEntryId) => messages.settleMessage(handle, id, reply, replyEntryId),

    lockPhone: (phone) => guests.lockPhone(handle, phone),
    savePhone: (guest) => guests.savePhone(handle, guest),
    saveTextsLost: (phone, at) => guests.saveTextsLost(handle, phone, at),
    textsLostAt: (phone) => guests.textsLostAt(handle, phone),

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
    entry: (id) => conversations.entry(handle, id),

    noteOutlet: (note) => outlets.noteOutlet(handle, note),
    dropOutletNote: (note) => outlets.dropOutletNote(handle, note),
    outletNotes: (propertyId, room) => outlets.outletNotes(handle, propertyId, room),

    roster: () => people.roster(handle),
    personByPhone: (phone) => people.personByPhone(handle, phone),
    addSwap: (swap) => people.addSwap(handle, swap),
    dropSwaps: (day) => people.dropSwaps(handle, day),

    openCallout: (opened) => callouts.openCallout(handle, opened),
    callout: (id) => callouts.callout(handle, id),
    saveCallout: (changed) => callouts.saveCallout(handle, changed),
    callouts: (conversationId) => callouts.callouts(handle, conversationId),
    openCallouts: (conversationId) => callouts.openCallouts(handle, conversationId),
    offerCallout: (offer) => callouts.offerCallout(handle, offer),
    calloutsOfferedTo: (personId) => callouts.calloutsOfferedTo(handle, personId),
    offersOf: (calloutId) => callouts.offersOf(handle, calloutId),
    passCallout: (calloutId, personId, at) => callouts.passCallout(handle, calloutId, personId, at),
    linkToCallout: (link) => calloutLinks.linkToCallout(handle, link),
    joinCallout: (joining) => callouts.joinCallout(handle, joining),
    conversationsOf: (calloutId) => callouts.conversationsOf(handle, calloutId),
    markTold: (calloutId, conversationId, at) => callouts.markTold(handle, calloutId, conversationId, at),
    openCalloutsOfCause: (propertyId, cause) => callouts.openCalloutsOfCause(handle, propertyId, cause),

    addWork: (added) => work.addWork(handle, added),
    planWork: (planned) => work.planWork(handle, planned),
    holdWork: (claimed) => work.holdWork(handle, claimed),
    finishWork: (id, result, at) => work.finishWork(handle, id, result, at),
    markAttempt: (id, at) => work.markAttempt(handle, id, at),
    undoneWork: (kinds) => work.undoneWork(handle, kinds),
    retimeWork: (id, times) => workTimes.retimeWork(handle, id, times),
    dropWork: (key, at) => work.dropWork(handle, key, at),
    hastenWork: (key, at) => workTimes.hastenWork(handle, key, at),
    delayWork: (key, until, now) => workTimes.delayWork(handle, key, until, now),
    work: (id) => work.workById(handle, id),

    noteTextState: (text, state, rank, at) => textStates.noteTextState(handle, text, state, rank, at),

    staysAround: (at, part) => stays.staysAround(handle, at, part),
    phonesOf: (rentalId) => stays.phonesOf(handle, rentalId),
    countNight: (from, until) => nights.countNight(handle, from, until),

    lastAlive: () => nights.lastAlive(handle),
    noteAlive: (at) => nights.noteAlive(handle, at),
    setBacksNoted: () => nights.setBacksNoted(handle),
    noteSetBack: (setBack, known) => nights.noteSetBack(handle, setBack, known),

    beginDrill: (personIds, at) => drills.beginDrill(handle, personIds, at),
    drill: (id) => drills.drill(handle, id),
    latestDrill: () => drills.latestDrill(handle),
    answerDrill: (drillId, personId, at) => drills.answerDrill(handle, drillId, personId, at),

    keeping: keepingOn(handle),
    openIncomingCall: (opened) => incomingCalls.openIncomingCall(handle, opened),
    incomingCall: (callId) => incomingCalls.incomingCall(handle, callId),
    saveIncomingCall: (changed) => incomingCalls.saveIncomingCall(handle, changed),
    callWaitingFor: (calloutId) => incomingCalls.callWaitingFor(handle, calloutId),
    addRecording: (recording) => incomingCalls.addRecording(handle, recording),
    recordingsOf: (calloutId) => incomingCalls.recordingsOf(handle, calloutId),

    keepFlowVersion: (hash, documents, at) => flowVersions.keepFlowVersion(handle, hash, documents, at),
    flowVersion: (hash) => flowVersions.flowVersion(handle, hash),
  };
}
