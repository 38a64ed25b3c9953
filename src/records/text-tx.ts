import type { Tx } from '../desk/records.ts';
import { labelKey } from '../reading/label.ts';
import type { Handle } from './engine.ts';
import { claimText, readForText } from './text-reads.ts';
import type { TextReads } from './text-reads.ts';
import { TextWrites } from './text-writes.ts';
import { txOn } from './tx.ts';

/** What only looks, and at rows that no text has read before: nothing that is known gets old by it. */
const LOOKS: ReadonlySet<keyof Tx> = new Set([
  'stay',
  'property',
  'staysOf',
  'staysAt',
  'settingSheet',
  'outletNotes',
  'textsLostAt',
  'entries',
  'entry',
  'flowVersion',
  'conversationsOf',
  'phonesOf',
]);

type Through = { -readonly [Name in keyof Tx]: Tx[Name] };

/** Everything as it is without us, but after what waits to be written. */
function throughTo(base: Tx, before: (name: keyof Tx) => Promise<void>): Through {
  const through: Record<string, unknown> = { ...base };
  for (const [name, method] of Object.entries(base)) {
    if (typeof method !== 'function') continue;
    through[name] = async (...given: unknown[]) => {
      await before(name as keyof Tx);
      return (method as (...given: unknown[]) => Promise<unknown>)(...given);
    };
  }
  return through as unknown as Through;
}

/**
 * The transaction of one text on Postgres, where each query costs a round trip: what most texts need is read in one query
 * once the phone is held, and what they write is gathered and written in one. Whatever else a text asks is done as it is
 * asked, after what has been gathered up to then.
 * @returns the transaction, and what writes the rest of it, to be called before the commit
 */
export function textTxOn(handle: Handle): { readonly tx: Tx; readonly flush: () => Promise<void> } {
  const base = txOn(handle);
  const writes = new TextWrites();
  const flush = (): Promise<void> => writes.flush(handle);
  let known: TextReads | null = null;
  /** Something was done that may have changed callouts and conversations. */
  let spent = false;
  let entryIds: number[] = [];
  let conversationIds: number[] = [];

  const through = throughTo(base, async (name) => {
    await flush();
    if (!LOOKS.has(name)) spent = true;
  });
  const tx: Tx = {
    ...through,
    async claimMessage(message) {
      if (known !== null || writes.waiting) return through.claimMessage(message);
      if (!(await claimText(handle, message))) return base.claimMessage(message);
      known = await readForText(handle, message.phone, message.at);
      entryIds = [...known.entryIds];
      conversationIds = [...known.conversationIds];
      const { at } = message;
      tx.staysOf = async (phone, when) =>
        known?.guest.phone === phone && when === at ? known.staysOfPhone : through.staysOf(phone, when);
      return { fresh: true };
    },
    async settleMessage(id, reply, replyEntryId) {
      writes.settle(id, reply, replyEntryId);
    },

    async lockPhone(phone) {
      return known?.guest.phone === phone ? known.guest : through.lockPhone(phone);
    },
    async savePhone(guest) {
      if (known?.guest.phone !== guest.phone) return through.savePhone(guest);
      known = { ...known, guest: { ...known.guest, ...guest } };
      writes.saveGuest(guest);
    },
    async textsLostAt(phone) {
      return known?.guest.phone === phone ? known.guest.textsLostAt : through.textsLostAt(phone);
    },
    async saveTextsLost(phone, at) {
      await through.saveTextsLost(phone, at);
      if (known?.guest.phone === phone) known = { ...known, guest: { ...known.guest, textsLostAt: at } };
    },
    async personByPhone(phone) {
      return known?.guest.phone === phone && !spent ? known.person : through.personByPhone(phone);
    },

    async stay(rentalId) {
      const stays = known === null ? [] : [known.stay, ...known.staysOfPhone];
      return stays.find((stay) => stay?.rentalId === rentalId) ?? through.stay(rentalId);
    },
    async property(id) {
      return known?.property?.id === id ? known.property : through.property(id);
    },
    async settingSheet() {
      return known === null ? through.settingSheet() : known.settingSheet;
    },
    async outletNotes(propertyId, room) {
      const roomKey = labelKey(room);
      const stays = known === null || spent ? [] : [known.stay, ...known.staysOfPhone];
      const isRead = stays.some((stay) => stay?.property.id === propertyId && labelKey(stay.room) === roomKey);
      if (known === null || !isRead) return through.outletNotes(propertyId, room);
      return known.outletNotes
        .filter((note) => note.propertyId === propertyId && note.roomKey === roomKey)
        .map(({ place, worked, at }) => ({ place, worked, at }));
    },

    async latestConversation(phone) {
      const isOld = known === null || spent || writes.waiting;
      return !isOld && known?.guest.phone === phone ? known.conversation : through.latestConversation(phone);
    },
    async openCallouts(conversationId) {
      const isRead = !spent && known?.conversation?.id === conversationId;
      return isRead && known !== null ? known.openCallouts : through.openCallouts(conversationId);
    },
    async openConversation(conversation) {
      const id = conversationIds.shift();
      if (id === undefined) return through.openConversation(conversation);
      const opened = { ...conversation, id };
      writes.addConversation(opened);
      return opened;
    },
    async saveConversation(conversation) {
      if (writes.savesOther(conversation.id)) await flush();
      writes.saveConversation(conversation);
    },
    async addEntry(entry) {
      const id = entryIds.shift();
      if (id === undefined) return through.addEntry(entry);
      writes.addEntry(id, entry);
      return { ...entry, id };
    },

    async addWork(work) {
      writes.addWork(work);
    },
    async dropWork(key, at) {
      if (writes.adds(key)) await flush();
      writes.dropWork(key, at);
    },
  };
  return { tx, flush };
}
