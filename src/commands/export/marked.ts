import type { FlowBook } from '../../flow/book.ts';
import { stepsOf } from '../../flow/book.ts';
import { flowVersion } from '../../records/flow-versions.ts';
import type { OpenRecords } from '../../records/open.ts';
import { markedLines, namesOnRecord } from '../../records/page-marks.ts';
import type { Labelled } from '../../words/measuring/labelled.ts';
import { partsOfNames, withoutNames } from './without-names.ts';

/**
 * The lines that the owner marked as heard wrong, as labelled messages in the format of `fixtures/messages/`, one JSON
 * object a line, oldest first; without phone numbers, and without the names of everyone on record.
 */
export async function markedMessages(records: OpenRecords): Promise<string> {
  return records.viewTables(async (handle) => {
    const lines = await markedLines(handle);
    const names = partsOfNames(await namesOnRecord(handle));
    const books = new Map<string, FlowBook | null>();
    const messages: Labelled[] = [];
    for (const line of lines) {
      if (line.words === '') continue; // forgotten since, or a picture alone
      if (!books.has(line.flowHash)) books.set(line.flowHash, (await flowVersion(handle, line.flowHash)) as FlowBook);
      const book = books.get(line.flowHash) ?? null;
      const { hears, choices } = book === null || line.step === null ? {} : (stepsOf(book).get(line.step) ?? {});
      messages.push({
        id: `marked-${line.entryId}`,
        text: withoutNames(line.words, names),
        lang: line.lang,
        ...(hears === undefined ? {} : { asked: hears }),
        ...(choices === undefined ? {} : { choices }),
        // Checked against these very lists when it was marked.
        expect: line.expected as Labelled['expect'],
      });
    }
    return messages.map((message) => `${JSON.stringify(message)}\n`).join('');
  });
}
