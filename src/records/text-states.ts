import type { TextName, TextState } from '../desk/carrier.ts';
import type { Instant } from '../time/instant.ts';
import type { Handle } from './engine.ts';

/** Notes a text's state unless it has one of the same rank or higher: reports come late, twice and out of order. */
export async function noteTextState(
  { db }: Handle,
  text: TextName,
  state: TextState,
  rank: number,
  at: Instant,
): Promise<boolean> {
  const noted = await db
    .insertInto('text_states')
    .values({ text, state, rank, at })
    .onConflict((conflict) =>
      conflict.column('text').doUpdateSet({ state, rank, at }).where('text_states.rank', '<', rank),
    )
    .returning('text')
    .executeTakeFirst();
  return noted !== undefined;
}
