import type { Instant } from '../../time/instant.ts';
import type { Entry, Tx } from '../records.ts';

/** Words of the desk as an entry of the conversation. */
export async function addDeskEntry(
  tx: Tx,
  said: {
    readonly conversationId: number;
    readonly words: string;
    readonly step: string | null;
    /** Of words that were spoken in a call: which turn they were. */
    readonly messageId?: string;
  },
  now: Instant,
): Promise<Entry> {
  return tx.addEntry({ messageId: null, ...said, at: now, who: 'desk', heard: null, media: [] });
}
