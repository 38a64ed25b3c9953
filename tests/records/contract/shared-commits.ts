import { describe, expect, it } from 'vitest';
import type { Records } from '../../../src/desk/records.ts';
import { GUEST, begun, entriesOf, entryIn, take } from '../a-night.ts';

export function sharedCommits(records: () => Records): void {
  const phone = (index: number): string => `+1970555${1000 + index}`;

  describe('texts that share a commit', () => {
    it('are all answered, each after it can be read', async () => {
      const seen = await Promise.all(
        Array.from({ length: 50 }, async (_, index) => {
          await records().shared((tx) => take(tx, `SM${index}`, phone(index), 'beep'));
          return (await entriesOf(records(), phone(index))).length;
        }),
      );
      expect(seen).toEqual(Array.from({ length: 50 }, () => 2));
    });

    it('run strictly one after another', async () => {
      let running = 0;
      let most = 0;
      await Promise.all(
        Array.from({ length: 40 }, (_, index) =>
          records().shared(async (tx) => {
            running += 1;
            most = Math.max(most, running);
            await take(tx, `SM${index}`, phone(index), 'beep');
            running -= 1;
          }),
        ),
      );
      expect(most).toBe(1);
    });

    it('go before all that wait when they must, behind what their own phone wrote before', async () => {
      const answered: string[] = [];
      const text = async (id: string, of: string, mustNotWait: boolean): Promise<void> => {
        const order = { inOrderOf: of, mustNotWait: () => mustNotWait };
        await records().shared((tx) => take(tx, id, of, 'beep'), order);
        answered.push(id);
      };
      const others = Array.from({ length: 60 }, (_, index) => text(`SM${index}`, phone(index), false));
      await Promise.all([...others, text('older', GUEST, false), text('danger', GUEST, true)]);
      expect(answered.indexOf('danger')).toBe(answered.indexOf('older') + 1);
      expect(answered.indexOf('danger')).toBeLessThan(20);
      expect(answered).toHaveLength(62);
    });

    it('do not suffer from a neighbour that throws, which leaves nothing behind', async () => {
      const outcomes = await Promise.allSettled(
        Array.from({ length: 9 }, (_, index) =>
          records().shared(async (tx) => {
            const reply = await take(tx, `SM${index}`, phone(index), 'beep');
            if (index === 4) throw new Error('this one fell over');
            return reply;
          }),
        ),
      );
      expect(outcomes.map(({ status }) => status)).toEqual(
        Array.from({ length: 9 }, (_, index) => (index === 4 ? 'rejected' : 'fulfilled')),
      );
      expect(outcomes[4]).toMatchObject({ reason: { message: 'this one fell over' } });
      expect(await entriesOf(records(), phone(4))).toEqual([]);
      expect(await entriesOf(records(), phone(5))).toHaveLength(2);
      expect(await records().shared((tx) => take(tx, 'SM4', phone(4), 'beep'))).toBe('reply 1 to SM4');
    });

    it('do not suffer from a neighbour that the database refuses, even one that hides it', async () => {
      await records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST);
        await tx.addEntry(entryIn(conversation.id, 'first', { messageId: 'SM-used' }));
      });
      const outcomes = await Promise.allSettled(
        Array.from({ length: 5 }, (_, index) =>
          records().shared(async (tx) => {
            const reply = await take(tx, `SM${index}`, phone(index), 'beep');
            const conversation = await tx.latestConversation(phone(index));
            const again = entryIn(conversation?.id ?? 0, 'again', { messageId: 'SM-used' });
            if (index === 1) await tx.addEntry(again);
            if (index === 3) await tx.addEntry(again).catch(() => {});
            return reply;
          }),
        ),
      );
      expect(outcomes[1]?.status).toBe('rejected');
      for (const index of [0, 2, 4]) {
        expect(outcomes[index]).toEqual({ status: 'fulfilled', value: `reply 1 to SM${index}` });
        expect(await entriesOf(records(), phone(index))).toHaveLength(2);
      }
    });

    it('and other transactions do not get in each other’s way', async () => {
      await Promise.all([
        ...Array.from({ length: 20 }, (_, index) => records().shared((tx) => take(tx, `S${index}`, GUEST, 'shared'))),
        ...Array.from({ length: 20 }, (_, index) =>
          records().transaction((tx) => take(tx, `T${index}`, GUEST, 'alone')),
        ),
      ]);
      expect(await entriesOf(records(), GUEST)).toHaveLength(80);
    });

    it('are answered before the records close', async () => {
      const answer = records().shared((tx) => take(tx, 'SM1', GUEST, 'beep'));
      await records().close();
      expect(await answer).toBe('reply 1 to SM1');
    });
  });
}
