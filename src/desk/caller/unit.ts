import type { FromCaller } from '../carrier.ts';
import { PERSON_KEY } from '../../flow/speak.ts';
import { heardSpeech, saysSomething } from './hearing.ts';
import type { Line } from './line.ts';

/** Whether a unit was named, and whether one guest has it now. */
export type UnitNamed =
  | { readonly named: 'found'; readonly tag: string }
  | { readonly named: 'unknown' }
  | { readonly named: 'no' };

const digitsOf = (tag: string): string => tag.replaceAll(/\D/g, '').replace(/^0+/, '');

/** The one unit out on a rental now whose tag has these digits, zeros before them ignored. */
async function byDigits(line: Line, digits: string): Promise<UnitNamed> {
  const wanted = digitsOf(digits);
  const stays = await line.tx.staysAround(line.now);
  const tags = new Set(stays.map(({ stay }) => stay.unit.tag).filter((tag) => digitsOf(tag) === wanted));
  const [tag] = tags;
  if (tag === undefined || tags.size > 1) return { named: 'unknown' };
  return byTag(line, tag);
}

async function byTag(line: Line, tag: string): Promise<UnitNamed> {
  return (await line.tx.staysAt({ tag }, line.now)).length === 1 ? { named: 'found', tag } : { named: 'unknown' };
}

/** What a caller said to the question which unit it is: the tag, or its digits by voice or key; or something else. */
export async function unitNamed(line: Line, said: FromCaller): Promise<UnitNamed> {
  if (said.came === 'keys') {
    const digits = said.keys.replace(/#$/, '');
    return /^\d{1,5}$/.test(digits) && digits !== PERSON_KEY ? byDigits(line, digits) : { named: 'no' };
  }
  if (said.came !== 'speech') return { named: 'no' };
  const given = { words: said.words, unsure: false, lang: line.lang };
  const heard = heardSpeech(line.desk, given, { flows: line.desk.flows, step: null }, line.now);
  if (heard.danger !== 'none') return { named: 'no' };
  if (heard.place.tag !== undefined) {
    const found = await byTag(line, heard.place.tag);
    return found.named === 'found' ? found : byDigits(line, heard.place.tag);
  }
  // "N B zero seven", as recognition may write it: "n b 0 7", "07".
  const spelled = /^\D{0,12}((?:\d\s?){1,5})$/.exec(said.words.trim())?.[1];
  if (spelled !== undefined && (heard.answer === null || !saysSomething({ ...heard, answer: null }))) {
    return byDigits(line, spelled);
  }
  return { named: 'no' };
}
