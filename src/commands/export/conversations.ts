import { z } from 'zod';
import type { ToldConversation } from '../../desk/keeping/export.ts';
import { csvRows } from '../../pages/csv.ts';

/** Of what was heard, the parts that are told outside. */
const heardSchema = z
  .object({
    danger: z.string().nullable().catch(null),
    topic: z.string().nullable().catch(null),
    answer: z.union([z.string(), z.number()]).nullable().catch(null),
  })
  .nullable()
  .catch(null);

/** A conversation as one line of JSON. */
export function jsonLine(told: ToldConversation): string {
  const { conversation, guest, property, room, unit } = told;
  const entries = told.entries.map(({ at, who, words, step, heard, media }) => {
    const made = heardSchema.parse(heard);
    return { at, who, words, step, ...made, pictures: media.length };
  });
  const callouts = told.callouts.map(
    ({ id, matter, urgency, status, openedAt, takenAt, takenByName, doneAt, note }) => ({
      id,
      matter,
      urgency,
      status,
      openedAt,
      takenAt,
      takenBy: takenByName,
      doneAt,
      note,
    }),
  );
  const { id, phone, lang, openedAt, lastGuestAt, guestMessages, ending, endedAt } = conversation;
  const line = {
    id,
    openedAt,
    lastGuestAt,
    phone,
    lang,
    guest,
    property,
    room,
    unit,
    guestMessages,
    ending,
    endedAt,
    entries,
    callouts,
  };
  return `${JSON.stringify(line)}\n`;
}

/** The table's head. */
export const CSV_HEAD = [
  'conversation',
  'opened_at',
  'phone',
  'guest',
  'property',
  'room',
  'unit',
  'language',
  'ending',
  'callouts',
  'at',
  'who',
  'words',
  'step',
  'danger',
  'topic',
  'answer',
  'pictures',
] as const;

/** A conversation as rows of a table, one for each thing that was said, without the table's head. */
export function csvLines(told: ToldConversation): string {
  const { conversation, guest, property, room, unit } = told;
  const callouts = told.callouts.map(({ urgency, matter, status }) => `${urgency}, ${status}: ${matter}`).join('; ');
  const rows = told.entries.map(({ at, who, words, step, heard, media }) => {
    const made = heardSchema.parse(heard);
    return [
      conversation.id,
      conversation.openedAt,
      conversation.phone,
      guest,
      property,
      room,
      unit,
      conversation.lang,
      conversation.ending,
      callouts,
      at,
      who,
      words,
      step,
      made?.danger ?? null,
      made?.topic ?? null,
      made?.answer ?? null,
      media.length,
    ];
  });
  return csvRows(rows);
}
