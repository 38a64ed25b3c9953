import { describe, expect, it } from 'vitest';
import type { Records } from '../../../src/desk/records.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, OTHER_GUEST, begun, behind, entriesOf, entryIn, take } from '../a-night.ts';

const HOSTILE: readonly (readonly [what: string, words: string])[] = [
  ['looks like JSON', '{"danger":"none","words":[1,2]}'],
  ['is a bare JSON word', 'null'],
  ['looks like SQL', "'); drop table entries; --"],
  ['has control characters', 'beep\u0001\u0007\u001b[31m\r\n\t\u007fbeep'],
  ['is written right to left', '\u202eالجهاز لا يعمل\u202c'],
  ['is in another script with marks', 'लाल बत्ती जल रही है'],
  ['is emoji joined into one', '👩🏽‍🔬🫁'],
  ['has 1,600 characters', 'still beeping! '.repeat(110).slice(0, 1600)],
  ['is empty', ''],
];

export function texts(records: () => Records): void {
  describe('a text', () => {
    it('that comes again gets the stored reply and changes nothing', async () => {
      const first = await records().shared((tx) => take(tx, 'SM1', GUEST, 'no power'));
      const again = await records().shared((tx) => take(tx, 'SM1', GUEST, 'no power'));
      expect(again).toBe(first);
      expect(await entriesOf(records(), GUEST)).toHaveLength(2);
    });

    it.each(['shared', 'transaction'] as const)(
      'that comes twice at the same moment is one entry with one reply (%s)',
      async (way) => {
        const replies = await Promise.all(
          Array.from({ length: 6 }, () => records()[way]((tx) => take(tx, 'SM1', GUEST, 'no power'))),
        );
        expect(new Set(replies)).toEqual(new Set(['reply 1 to SM1']));
        expect(await entriesOf(records(), GUEST)).toHaveLength(2);
      },
    );

    it('whose handling failed is fresh when it comes again', async () => {
      const failed = records().transaction(async (tx) => {
        await take(tx, 'SM1', GUEST, 'no power');
        throw new Error('the desk fell over');
      });
      await expect(failed).rejects.toThrow('the desk fell over');
      expect(await records().transaction((tx) => take(tx, 'SM1', GUEST, 'no power'))).toBe('reply 1 to SM1');
    });

    it('names the row of its reply when it comes again', async () => {
      const entry = await records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST);
        await tx.claimMessage({ id: 'SM1', phone: GUEST, at: NIGHT });
        const answer = await tx.addEntry(entryIn(conversation.id, 'Look at the plug.', { who: 'desk' }));
        await tx.settleMessage('SM1', answer.words, answer.id);
        return answer;
      });
      expect(await records().transaction((tx) => tx.claimMessage({ id: 'SM1', phone: GUEST, at: NIGHT }))).toEqual({
        fresh: false,
        reply: 'Look at the plug.',
        replyEntryId: entry.id,
      });
    });

    it.each(['shared', 'transaction'] as const)(
      'of a phone that sends many at once waits for the one before (%s)',
      async (way) => {
        const ids = Array.from({ length: 20 }, (_, index) => `SM${index}`);
        const replies = await Promise.all(ids.map((id) => records()[way]((tx) => take(tx, id, GUEST, 'beep'))));
        const numbers = replies.map((reply) => Number(reply?.split(' ')[1])).toSorted((a, b) => a - b);
        expect(numbers).toEqual(ids.map((_, index) => index + 1));
        const written = await entriesOf(records(), GUEST);
        // Each text is followed by its own reply: none was taken between another and its reply.
        expect(written.map(({ who }) => who)).toEqual(ids.flatMap(() => ['guest', 'desk']));
      },
    );

    it.each(HOSTILE)('that %s comes back as the same string', async (_, words) => {
      await records().shared((tx) => take(tx, 'SM1', GUEST, words));
      const [entry] = await entriesOf(records(), GUEST);
      expect(entry?.words).toBe(words);
    });

    it('keeps U+FFFD where NUL or half a character was, and everything else', async () => {
      await records().shared((tx) => take(tx, 'SM\u00001', GUEST, 'be\u0000ep \ud83d!'));
      const [entry] = await entriesOf(records(), GUEST);
      expect(entry?.words).toBe('be\uFFFDep \uFFFD!');
      expect(await records().shared((tx) => take(tx, 'SM\u00001', GUEST, 'again'))).toBe(
        'reply 1 to SM\u00001'.replace('\u0000', '\uFFFD'),
      );
    });

    it('keeps what was heard and its pictures as they were', async () => {
      const heard = { danger: 'now', why: ['can\u0000t breathe', '{"a":1}'], answer: 2.5 };
      const media = ['https://media.example/1?a=b&c="d"'];
      await records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST);
        await tx.addEntry(entryIn(conversation.id, 'x', { heard, media, step: 'power.listen', messageId: 'SM1' }));
      });
      const [entry] = await entriesOf(records(), GUEST);
      expect(entry).toMatchObject({ heard, media, step: 'power.listen', messageId: 'SM1', at: NIGHT, who: 'guest' });
    });

    it('with a message id that has an entry already is refused', async () => {
      const twice = records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST);
        await tx.addEntry(entryIn(conversation.id, 'one', { messageId: 'SM1' }));
        await tx.addEntry(entryIn(conversation.id, 'two', { messageId: 'SM1' }));
      });
      await expect(twice).rejects.toThrow(/unique/i);
      expect(await entriesOf(records(), GUEST)).toEqual([]);
    });
  });

  describe('a conversation', () => {
    it('comes back as it was saved, with its ending', async () => {
      const saved = await records().transaction(async (tx) => {
        const conversation = await begun(tx, GUEST);
        const ended = {
          ...conversation,
          room: '204',
          lang: 'es' as const,
          state: '{"value":"at-rest"}',
          lastGuestAt: after(NIGHT, 'PT5M'),
          guestMessages: 3,
          lastReply: 'Good night.',
          equalReplies: 2,
          placeAsked: true,
          burst: { since: after(NIGHT, 'PT4M'), texts: 2 },
          ending: 'settled' as const,
          endedAt: after(NIGHT, 'PT6M'),
        };
        await tx.saveConversation(ended);
        return ended;
      });
      expect(await records().read((tx) => tx.conversation(saved.id))).toEqual(saved);
    });

    it('is the latest of its phone by the last text of the guest, not by age', async () => {
      const [first] = await records().transaction(async (tx) => {
        const older = await begun(tx, GUEST);
        const newer = await begun(tx, GUEST, { lastGuestAt: after(NIGHT, 'PT1M') });
        await begun(tx, OTHER_GUEST, { lastGuestAt: after(NIGHT, 'PT9M') });
        await tx.saveConversation({ ...older, lastGuestAt: after(NIGHT, 'PT2M') });
        return [older, newer];
      });
      expect((await records().read((tx) => tx.latestConversation(GUEST)))?.id).toBe(first?.id);
    });

    it('cannot be opened on a flow version that was not kept', async () => {
      const opened = records().transaction((tx) => begun(tx, GUEST, { flowHash: 'never-kept' }));
      await expect(opened).rejects.toThrow(/foreign key/i);
    });

    it('keeps its flow version as it was first kept', async () => {
      const documents = { 'power.yaml': 'flow: power', limits: { highest: 10 } };
      await records().transaction((tx) => tx.keepFlowVersion('h', documents, NIGHT));
      await records().transaction((tx) => tx.keepFlowVersion('h', { other: true }, after(NIGHT, 'PT1H')));
      expect(await records().read((tx) => tx.flowVersion('h'))).toEqual(documents);
      expect(await records().read((tx) => tx.flowVersion('unknown'))).toBeNull();
    });
  });

  it('a phone keeps its language and when it opted out', async () => {
    const guest = { phone: GUEST, lang: 'es', optedOutAt: NIGHT } as const;
    await records().transaction((tx) => tx.savePhone({ ...guest, optedOutAt: null }));
    await records().transaction((tx) => tx.savePhone(guest));
    expect(await records().transaction((tx) => tx.lockPhone(GUEST))).toEqual(guest);
    expect(await records().transaction((tx) => tx.lockPhone(OTHER_GUEST))).toEqual({
      phone: OTHER_GUEST,
      lang: null,
      optedOutAt: null,
    });
  });

  it('a phone that is held is waited for, and then seen as it was left', async () => {
    await records().transaction((tx) => tx.lockPhone(GUEST));
    const guest = await behind(
      records(),
      async (tx) => {
        const held = await tx.lockPhone(GUEST);
        return () => tx.savePhone({ ...held, optedOutAt: NIGHT });
      },
      (tx) => tx.lockPhone(GUEST),
    );
    expect(guest.optedOutAt).toBe(NIGHT);
  });

  it('reading writes nothing', async () => {
    await expect(records().read((tx) => tx.lockPhone(GUEST))).rejects.toThrow(/read-?only/i);
  });
}
