import type { OpenRecords } from '../../records/open.ts';
import type { Row } from '../../records/schema.ts';

/** What the records hold after a trial, as plain values. */
export interface Seen {
  readonly messages: readonly Pick<Row<'messages'>, 'id' | 'phone' | 'reply' | 'reply_entry_id'>[];
  readonly entries: readonly Pick<Row<'entries'>, 'id' | 'conversation_id' | 'who' | 'message_id' | 'words'>[];
  readonly conversations: readonly Pick<Row<'conversations'>, 'id' | 'phone' | 'guest_messages'>[];
  readonly callouts: readonly Pick<Row<'callouts'>, 'id' | 'urgency' | 'status' | 'note'>[];
  readonly shares: readonly { readonly callout_id: number; readonly conversation_id: number }[];
  readonly offers: readonly { readonly callout_id: number }[];
  readonly work: readonly SeenWork[];
  /** The desk's own now when they were read. */
  readonly now: string;
}

export interface SeenWork extends Pick<
  Row<'work'>,
  'id' | 'kind' | 'key' | 'phone' | 'due_at' | 'free_at' | 'done_at' | 'result'
> {
  readonly danger: boolean;
  readonly payload: {
    readonly to?: string;
    readonly body?: string;
    readonly entryId?: number | null;
    readonly calloutId?: number;
    readonly round?: number | { readonly calloutId: number; readonly round: number };
  };
}

/** Reads everything at one view of what is committed. */
export function readSeen(records: OpenRecords, now: string): Promise<Seen> {
  return records.viewTables(async ({ db }) => ({
    now,
    messages: await db.selectFrom('messages').select(['id', 'phone', 'reply', 'reply_entry_id']).execute(),
    entries: await db
      .selectFrom('entries')
      .select(['id', 'conversation_id', 'who', 'message_id', 'words'])
      .orderBy('id')
      .execute(),
    conversations: await db.selectFrom('conversations').select(['id', 'phone', 'guest_messages']).execute(),
    callouts: await db.selectFrom('callouts').select(['id', 'urgency', 'status', 'note']).execute(),
    shares: await db.selectFrom('callout_conversations').select(['callout_id', 'conversation_id']).execute(),
    offers: await db.selectFrom('offers').select(['callout_id']).execute(),
    work: (await db.selectFrom('work').selectAll().orderBy('id').execute()).map((row) => ({
      id: row.id,
      kind: row.kind,
      key: row.key,
      phone: row.phone,
      due_at: row.due_at,
      free_at: row.free_at,
      done_at: row.done_at,
      result: row.result,
      danger: row.danger === 1,
      payload: (JSON.parse(row.payload_json) ?? {}) as SeenWork['payload'],
    })),
  }));
}
