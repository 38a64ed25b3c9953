import type { AfterWords, FromCaller, SpokenToCaller } from '../carrier.ts';
import { aloud } from '../../flow/aloud.ts';
import { calloutCall } from '../call/callout-call.ts';
import type { Line } from './line.ts';
import type { Scene } from './scene.ts';
import type { Standing } from './standing.ts';

type TechnicianStanding = Extract<Standing, { at: 'technician' }>;

/** The callout that was offered to whoever calls from a phone of the list: they call back about it. */
export async function offeredTo({ tx, call }: Line): Promise<TechnicianStanding | null> {
  const person = await tx.personByPhone(call.phone);
  if (person === null) return null;
  const [callout] = await tx.calloutsOfferedTo(person.id);
  return callout === undefined
    ? null
    : { at: 'technician', misses: 0, calloutId: callout.id, personId: person.id, turn: 0 };
}

/** Someone on the list calls back: they hear and press the same as if the desk had called them. */
export async function technicianCalls(
  line: Line,
  { words }: Scene,
  standing: TechnicianStanding,
  said: FromCaller,
): Promise<SpokenToCaller> {
  const { desk, tx, call, now } = line;
  const { calloutId, personId, turn } = standing;
  const round = (await tx.callout(calloutId))?.round ?? 0;
  const spoken = await calloutCall(
    desk,
    tx,
    { about: 'callout', calloutId, round, phone: call.phone, personId },
    {
      call: call.id,
      turn,
      digits: said.came === 'keys' ? said.keys : null,
      machine: false,
      ...(said.came === 'queue' ? { putThrough: said.result === 'talked' } : {}),
    },
    now,
  );
  const over = spoken.nextTurn === null;
  await line.stand(
    over ? { at: 'over', misses: 0 } : { ...standing, turn: spoken.nextTurn },
    over ? { endedAt: now } : {},
  );
  const after: AfterWords =
    spoken.joins === undefined
      ? over
        ? { do: 'hang-up' }
        : line.listen(words, 'danger', 'question')
      : { do: 'join', turn: line.turn + 1, queue: spoken.joins };
  return { sentences: spoken.sentences.map((sentence) => ({ lang: 'en', words: aloud(sentence) })), after };
}
