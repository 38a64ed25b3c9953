import { describe, expect, it } from 'vitest';
import { spanOf } from '../../../src/desk/keeping/export.ts';
import { conversationsIn } from '../../../src/records/export.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, begun, entryIn } from '../a-night.ts';

/** What is told outside, and what is forgotten. */
export function keeping(records: () => OpenRecords): void {
  describe('an export', () => {
    it('gives the conversations of whole days in the zone, oldest first, in parts that leave none out', async () => {
      const total = 230;
      await records().transaction(async (tx) => {
        // Some at one instant, so that an instant alone does not say where to go on.
        for (let index = 0; index < total; index += 1) {
          const openedAt = after(NIGHT, `PT${Math.floor(index / 60)}M`);
          await begun(tx, GUEST, { openedAt, lastGuestAt: openedAt });
        }
        await begun(tx, GUEST, { openedAt: after(NIGHT, '-PT130M') });
        await begun(tx, GUEST, { openedAt: after(NIGHT, '-PT131M') });
        await begun(tx, GUEST, { openedAt: after(NIGHT, 'PT1310M') });
      });
      // 2026-11-25 in Denver is from 07:00 to 07:00 UTC; the night is 09:10 UTC.
      const span = spanOf('2026-11-25', '2026-11-25', 'America/Denver');
      expect(span).toEqual({ from: after(NIGHT, '-PT130M'), until: after(NIGHT, 'PT1310M') });
      const ids: number[] = [];
      for await (const { conversation } of conversationsIn(records(), span)) ids.push(conversation.id);
      expect(ids).toEqual([total + 1, ...Array.from({ length: total }, (_, index) => index + 1)]);
    });
  });

  describe('forgetting', () => {
    it('takes the words and the number out and leaves the rest, of this guest only', async () => {
      const [id, other] = await records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST, { room: '204', lastReply: 'secret', guestMessages: 3 });
        const heard = { danger: 'now', topic: null, answer: 2, why: ['secret'], place: { room: '204' } };
        await tx.claimMessage({ id: 'SM1', phone: GUEST, at: NIGHT });
        await tx.addEntry(
          entryIn(conversation.id, 'secret', { heard, media: ['https://x.example/1'], messageId: 'SM1' }),
        );
        const another = await begun(tx, OTHER_GUEST, { lastReply: 'not theirs' });
        const payload = { to: GUEST, body: 'secret', entryId: null };
        const row = { kind: 'text', dueAt: NIGHT, notAfter: null, danger: false, payload };
        await tx.addWork({ ...row, key: `welcome:1:${GUEST}`, phone: GUEST });
        return [conversation.id, another.id];
      });
      const [forgotten, undone] = await records().transaction(async (tx) => {
        const ids = await tx.keeping.conversationsWith(GUEST);
        expect(ids).toEqual([id]);
        const counts = await tx.keeping.forgetConversations(ids);
        await tx.keeping.forgetPhone(GUEST, { spellings: [GUEST], calloutIds: [], at: NIGHT });
        return [counts, await tx.undoneWork(['text'])];
      });
      expect(forgotten).toEqual({ conversations: 1, entries: 1, callouts: 0 });
      expect(undone).toEqual([]);
      await records().read(async (tx) => {
        expect(await tx.conversation(id)).toMatchObject({
          phone: `forgotten-${id}`,
          room: null,
          lastReply: null,
          guestMessages: 3,
        });
        expect(await tx.entries(id)).toMatchObject([
          { words: '', media: [], heard: { danger: 'now', answer: 2, why: [], place: {} } },
        ]);
        expect(await tx.conversation(other)).toMatchObject({ phone: OTHER_GUEST, lastReply: 'not theirs' });
        expect(await tx.work(1)).toMatchObject({ key: null, phone: null, payload: null });
        expect(await tx.storedReply('SM1')).toBeNull();
      });
    });

    it('finds what has lapsed: old, with nobody at work on it, and only once', async () => {
      const later = after(NIGHT, 'PT1H');
      const ids = await records().transaction(async (tx) => {
        const old = await begun(tx, GUEST);
        const withCallout = await begun(tx, OTHER_GUEST);
        const young = await begun(tx, GUEST, { lastGuestAt: later });
        await tx.openCallout({
          key: 'a callout',
          conversationId: withCallout.id,
          matter: 'power',
          urgency: 'tonight',
          status: 'ringing',
          brief: '',
          openedAt: NIGHT,
        });
        await tx.finishWork(1, 'sent', NIGHT);
        return { old: old.id, young: young.id };
      });
      await records().transaction(async (tx) => {
        expect(await tx.keeping.lapsedConversations(later, 10)).toEqual([ids.old]);
        await tx.keeping.forgetConversations([ids.old]);
        expect(await tx.keeping.lapsedConversations(later, 10)).toEqual([]);
        await tx.keeping.clearRest(later);
        // Their phones are still those of other conversations.
        expect((await tx.latestConversation(GUEST))?.id).toBe(ids.young);
      });
    });
  });
}
