import { expect } from 'vitest';
import type { Caller } from './exchange.ts';

/** A caller who knows nothing but what is said to them: what they may answer is read from the prompt. */

export type Mode = 'keys' | 'speech' | 'mixed';

/** One way to answer: the key that was named, and the words. */
interface Option {
  readonly key: string;
  readonly words: string;
}

type Offer = readonly [prompt: RegExp, options: readonly Option[]];

const option = (key: string, words: string): Option => ({ key, words });

/** Offers that are no list of choices, the first that fits the prompt counts. */
const OFFERS: readonly Offer[] = [
  [/Say next/, [option('1', 'next')]],
  [/Diga sigue/, [option('1', 'sigue')]],
  [
    /someone else is on the phone/,
    [option('1', 'yes someone is on the phone with them'), option('3', 'I cannot call')],
  ],
  [/otra persona ya habla/, [option('1', 'sí, ya están hablando'), option('3', 'no puedo llamar')]],
  [/record it, say yes/, [option('1', 'yes'), option('2', 'no')]],
  [/grabarlo, diga sí/, [option('1', 'sí'), option('2', 'no')]],
  [/key in the hours/, [option('12#', '12 hours'), option('*1#', "I don't know")]],
  [/marque las horas/, [option('12#', '12 horas'), option('*1#', 'no sé')]],
  [/star for the point/, [option('2#', '2'), option('*1#', 'at the bottom'), option('5*5#', '5.5')]],
  [/asterisco como punto/, [option('2#', '2'), option('*1#', 'abajo'), option('5*5#', '5.5')]],
  [/You have none: star 1/, [option('92#', '92'), option('*1#', 'I have none')]],
  [/Si no tiene: asterisco 1/, [option('92#', '92'), option('*1#', 'no tengo')]],
  [/Say yes.*nobody can call/, [option('1', 'yes'), option('3', 'I cannot call'), option('4', 'all is well')]],
  [/Diga sí.*nadie puede llamar/, [option('1', 'sí'), option('3', 'no puedo llamar'), option('4', 'todo está bien')]],
  [/Say yes.*was not tried/, [option('1', 'yes'), option('2', 'no'), option('3', 'not tried')]],
  [/Diga sí.*no lo probó/, [option('1', 'sí'), option('2', 'no'), option('3', 'no lo probé')]],
  [/Say yes/, [option('1', 'yes'), option('2', 'no')]],
  [/Diga sí/, [option('1', 'sí'), option('2', 'no')]],
];

/** "Press 1 for one short beep, 2 for nothing", "Marque 1: nada, 2 si poco". */
const CHOICE = /(?:(?:Press|Marque) |, )(\d)(?: for|:| si) ([^,.]+)/g;

export function optionsIn(prompt: string): readonly Option[] {
  const offer = OFFERS.find(([pattern]) => pattern.test(prompt));
  if (offer !== undefined) return offer[1];
  return [...prompt.matchAll(CHOICE)].map((match) => option(match[1] ?? '', match[2] ?? ''));
}

const MOST_TURNS = 90;
/** What the desk says to an answer that it did not understand. */
export const NOT_UNDERSTOOD =
  /means nothing here|did not hear that|did not get that|no sirve aquí|No oí bien|no entendí/;

/**
 * Answers whatever is asked until the call is over, and stays silent where nothing is. `choose` says which of the offers is
 * taken at which turn.
 */
export async function playToTheEnd(
  caller: Caller,
  mode: Mode,
  choose: (turn: number, options: number) => number,
): Promise<void> {
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    if (caller.at === 'over') return;
    if (caller.at === 'waiting') await caller.wait('PT15M');
    else if (caller.at === 'recording') await caller.leaveMessage(`https://api.example.com/RE${turn}`, 5);
    else {
      const options = optionsIn(caller.last);
      const chosen = options[choose(turn, options.length)];
      const asked = caller.last;
      const byKey = mode === 'keys' || (mode === 'mixed' && turn % 2 === 0);
      if (chosen === undefined) await caller.silent();
      else if (byKey) await caller.press(chosen.key);
      else await caller.say(chosen.words);
      const what = `${asked}\n"${chosen?.words}" or ${chosen?.key}`;
      if (NOT_UNDERSTOOD.test(caller.last)) expect.fail(`what was offered is not understood: ${what}`);
    }
  }
  expect.fail(`the call does not end: ${caller.heard.slice(-4).join('\n')}`);
}
