import { expect, it } from 'vitest';
import type { Callout, IncomingCall, NewIncomingCall, Tx } from '../../../src/desk/records.ts';
import type { OpenRecords } from '../../../src/records/open.ts';
import { after } from '../../../src/time/instant.ts';
import { GUEST, NIGHT, begun } from '../a-night.ts';

const callOf = (callId: string, changes: Partial<NewIncomingCall> = {}): NewIncomingCall => ({
  callId,
  phone: GUEST,
  lang: 'es',
  conversationId: null,
  waitsFor: null,
  standing: '{"at":"arrived","misses":0}',
  openedAt: NIGHT,
  endedAt: null,
  ...changes,
});

async function calloutOf(tx: Tx): Promise<Callout> {
  const { id } = await begun(tx, GUEST);
  const { callout } = await tx.openCallout({
    key: 'tonight:unit-1',
    conversationId: id,
    matter: 'no power',
    urgency: 'tonight',
    status: 'ringing',
    brief: 'Tonight: no power.',
    openedAt: NIGHT,
  });
  return callout;
}

/** What calls that come in ask of the records. */
export function incomingCalls(records: () => OpenRecords): void {
  const write = <T>(use: (tx: Tx) => Promise<T>): Promise<T> => records().transaction(use);

  it('a call is found by the carrier’s id, keeps what is saved of it, and is opened once', async () => {
    const opened = await write(async (tx) => {
      await tx.lockPhone(GUEST);
      return tx.openIncomingCall(callOf('CA1'));
    });
    const changed: IncomingCall = {
      ...opened,
      lang: 'en',
      standing: '{"at":"over","misses":0}',
      endedAt: after(NIGHT, 'PT1M'),
    };
    await write((tx) => tx.saveIncomingCall(changed));
    expect(await records().read((tx) => tx.incomingCall('CA1'))).toEqual(changed);
    expect(await records().read((tx) => tx.incomingCall('CA2'))).toBeNull();
    await expect(write((tx) => tx.openIncomingCall(callOf('CA1')))).rejects.toThrow();
  });

  it('of the calls that wait for a callout the one that waits longest is given, and none that has ended', async () => {
    const { callout, first, second } = await write(async (tx) => {
      const wanted = await calloutOf(tx);
      return {
        callout: wanted,
        first: await tx.openIncomingCall(callOf('CA1', { waitsFor: wanted.id })),
        second: await tx.openIncomingCall(callOf('CA2', { waitsFor: wanted.id })),
      };
    });
    const waiting = () => write(async (tx) => (await tx.callWaitingFor(callout.id))?.callId ?? null);
    expect(await waiting()).toBe('CA1');
    await write((tx) => tx.saveIncomingCall({ ...first, endedAt: NIGHT }));
    expect(await waiting()).toBe('CA2');
    await write((tx) => tx.saveIncomingCall({ ...second, waitsFor: null }));
    expect(await waiting()).toBeNull();
  });

  it('recordings hang on their callout, oldest first, and one that is told twice is kept once', async () => {
    const callout = await write((tx) => calloutOf(tx));
    const recording = (address: string, lengthS: number) => ({
      calloutId: callout.id,
      conversationId: callout.conversationId,
      address,
      lengthS,
      at: NIGHT,
    });
    await write(async (tx) => {
      await tx.addRecording(recording('https://api.example.com/RE1', 12));
      await tx.addRecording(recording('https://api.example.com/RE2', 3));
      await tx.addRecording(recording('https://api.example.com/RE1', 12));
    });
    expect(await records().read((tx) => tx.recordingsOf(callout.id))).toEqual([
      recording('https://api.example.com/RE1', 12),
      recording('https://api.example.com/RE2', 3),
    ]);
    expect(await records().read((tx) => tx.recordingsOf(callout.id + 1))).toEqual([]);
  });

  it('of a guest who is forgotten the calls stay without their number, and what they left is let go of', async () => {
    const callout = await write((tx) => calloutOf(tx));
    await write(async (tx) => {
      await tx.openIncomingCall(callOf('CA1', { conversationId: callout.conversationId }));
      await tx.openIncomingCall(callOf('CA2'));
      const { conversationId } = callout;
      const address = 'https://api.example.com/RE1';
      await tx.addRecording({ calloutId: callout.id, conversationId, address, lengthS: 12, at: NIGHT });
    });
    await write(async (tx) => {
      await tx.keeping.forgetConversations([callout.conversationId]);
      await tx.keeping.forgetPhone(GUEST, { spellings: [GUEST], calloutIds: [], at: NIGHT });
    });
    expect(await records().read((tx) => tx.recordingsOf(callout.id))).toEqual([]);
    expect(await records().read((tx) => tx.incomingCall('CA1'))).toMatchObject({
      phone: `forgotten-${callout.conversationId}`,
      waitsFor: null,
    });
    expect(await records().read((tx) => tx.incomingCall('CA2'))).toBeNull();
  });
}
