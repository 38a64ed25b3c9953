import { GrammarBuilder, type Grammar, type Stem } from './grammar.ts';
import { ANSWER_KINDS, SIGNS, TOPICS, type Language, type Sign } from './heard.ts';
import type { NumberWords } from './numbers.ts';
import { phrasesOf, readWordsFile, wordsError, type Block, type Line } from './words-file.ts';

/** What a set of phrases stands for, by its headings. A set under `words` only serves to build others. */
export interface Meaning {
  readonly section: Section;
  /** the sign, topic, answer kind, move, keyword, kind of context or name of the set */
  readonly name: string;
  /** the level of a sign, the value of an answer, the strength of a topic; '' where there is none */
  readonly detail: string;
}

const SECTIONS = ['words', 'signs', 'topics', 'answers', 'moves', 'keywords', 'context', 'place'] as const;
export type Section = (typeof SECTIONS)[number];

/**
 * How a sign's phrases are taken.
 * now   danger at this moment, unless the context softens it
 * likely  mostly danger at this moment, at times said of other things: the second reader decides between now and ask
 * ask   worrying
 * maybe   worth a question where the second reader agrees, or beside something else that is
 * hint  worth a question only beside something else
 */
export const LEVELS = ['now', 'likely', 'ask', 'maybe', 'hint'] as const;
export type Level = (typeof LEVELS)[number];

/**
 * deny          "no", "without": what follows is denied       denied-after   "pain: none": what came before is
 * past, over    it was earlier; it has passed                 supposed       "if", "what if", "scared that"
 * mild          "a little"                                    figurative     words that only sound like danger
 * no-denial     looks like a denial and is none               ends           what stops the reach of all of these
 * fiction       a film, a game, someone else long ago            worried        something is wrong, unsaid what
 */
export const CONTEXTS = [
  'deny',
  'denied-after',
  'past',
  'over',
  'supposed',
  'mild',
  'figurative',
  'fiction',
  'no-denial',
  'ends',
  'worried',
] as const;

/** Signs that only mean danger together: when all sets are found, the sign is heard at that level. */
export interface Together {
  readonly sets: readonly string[];
  readonly level: 'now' | 'ask';
  readonly sign: Sign;
}

/** The words of one language, compiled. */
export interface Lexicon {
  readonly language: Language;
  readonly grammar: Grammar;
  readonly stem: Stem;
  /** by symbol; undefined for single words */
  readonly meanings: readonly (Meaning | undefined)[];
  readonly exact: ReadonlyMap<string, number>;
  readonly stems: ReadonlyMap<string, number>;
  /** words written another way: "cant" to "can", "not" */
  readonly rewrites: ReadonlyMap<string, readonly string[]>;
  /** endings written another way: "n't" to "not" */
  readonly endings: readonly { readonly ending: string; readonly words: readonly string[] }[];
  readonly numbers: NumberWords;
  readonly together: readonly Together[];
  /** words a gap never skips */
  readonly denials: ReadonlySet<string>;
  /** words as they stand in phrases, for spelling */
  readonly written: ReadonlySet<string>;
}

/** The files of one language, name and content. */
export type WordsFiles = readonly { readonly name: string; readonly source: string }[];

/**
 * Compiles the words files of one language.
 * @throws Error with file, line, column, what came and what is allowed
 */
export function compileLexicon(language: Language, files: WordsFiles, stem: Stem): Lexicon {
  const blocks = files.flatMap(({ name, source }) => readWordsFile(name, source));
  const builder = new GrammarBuilder(stem);
  const rewrites = new Map<string, readonly string[]>();
  const endings: { ending: string; words: readonly string[] }[] = [];
  const together: Together[] = [];
  const defined = new Set<string>();
  const used: { set: string; line: Line }[] = [];
  const combined: { set: string; line: Line }[] = [];
  const written = new Set<string>();

  for (const block of blocks) {
    const [section = '', name = '', detail = ''] = block.path;
    if (section === 'about' || section === 'numbers') continue;
    if (section === 'rewrite') {
      for (const line of block.lines) addRewrite(line, rewrites, endings);
    } else if (section === 'together') {
      for (const line of block.lines) together.push(readTogether(line, combined));
    } else {
      checkHeadings(block);
      const set = setName(section, name, detail);
      defined.add(set);
      for (const line of block.lines) {
        for (const [, reference] of line.text.matchAll(/<([^>]+)>/g)) used.push({ set: reference ?? '', line });
        for (const [, word] of line.text.matchAll(/(?<![<:\p{L}.-])([\p{L}]{2,})(?![\p{L}:.*-]*>|\*)/gu)) {
          written.add(word ?? '');
        }
        for (const phrase of phrasesOf(line)) builder.add(set, phrase);
      }
    }
  }
  for (const { set, line } of combined) {
    // A combination may name a sign at any level: <signs:confusion>.
    if (!defined.has(set) && ![...defined].some((one) => one.startsWith(`${set}:`))) used.push({ set, line });
  }
  for (const { set, line } of used) {
    if (!defined.has(set) && set !== 'number') {
      throw wordsError(line, `there is no set <${set}>; sets are the headings under "words", or <signs:breathing:now>`);
    }
  }
  builder.symbol('<number>');
  const grammar = builder.done();
  return {
    language,
    grammar,
    stem,
    meanings: grammar.names.map(meaningOf),
    exact: symbolsWith(grammar, '='),
    stems: symbolsWith(grammar, '~'),
    rewrites,
    endings,
    numbers: readNumbers(blocks),
    together,
    denials: new Set(singleWords(blocks, 'words', 'denial')),
    written,
  };
}

function setName(section: string, name: string, detail: string): string {
  if (section === 'words') return name;
  return detail === '' ? `${section}:${name}` : `${section}:${name}:${detail}`;
}

function meaningOf(symbol: string): Meaning | undefined {
  if (!symbol.startsWith('<')) return undefined;
  const [first = '', name = '', detail = ''] = symbol.slice(1, -1).split(':');
  if (name === '') return { section: 'words', name: first, detail: '' };
  return { section: first as Section, name, detail };
}

function symbolsWith(grammar: Grammar, mark: string): Map<string, number> {
  const out = new Map<string, number>();
  for (const [name, symbol] of grammar.symbols) if (name.startsWith(mark)) out.set(name.slice(1), symbol);
  return out;
}

function addRewrite(
  line: Line,
  rewrites: Map<string, readonly string[]>,
  endings: { ending: string; words: readonly string[] }[],
): void {
  const [left = '', right = '', more] = line.text.split('=').map((side) => side.trim());
  if (left === '' || right === '' || more !== undefined) {
    throw wordsError(line, `"${line.text}": write "cant = can not", or "*n't = * not" for an ending`);
  }
  const words = right.split(/\s+/);
  if (left.startsWith('*')) endings.push({ ending: left.slice(1), words: words.filter((word) => word !== '*') });
  else for (const one of left.split(/\s+/)) rewrites.set(one, words);
}

function readTogether(line: Line, used: { set: string; line: Line }[]): Together {
  const match = /^(.+)=\s*(now|ask)\s+([a-z-]+)$/.exec(line.text);
  const sign = SIGNS.find((known) => known === match?.[3]);
  if (match === null || sign === undefined) {
    throw wordsError(line, `"${line.text}": write "<headache> + <vomiting> = now altitude-illness"`);
  }
  const sets = [...(match[1] ?? '').matchAll(/<([^>]+)>/g)].map((found) => found[1] ?? '');
  for (const set of sets) used.push({ set, line });
  return { sets, level: match[2] as 'now' | 'ask', sign };
}

function checkHeadings(block: Block): void {
  const [section = '', name = '', detail = ''] = block.path;
  const at = block.lines[0];
  if (at === undefined) return;
  const wrong = (what: string, came: string, allowed: readonly string[]): Error =>
    wordsError(at, `above this line, "${came}" is no ${what}; allowed: ${allowed.join(', ')}`);
  if (!SECTIONS.some((known) => known === section)) {
    throw wrong('section', section, ['about', 'rewrite', 'numbers', 'together', ...SECTIONS]);
  }
  if (section === 'signs') {
    if (!SIGNS.some((known) => known === name)) throw wrong('sign', name, SIGNS);
    if (!LEVELS.some((known) => known === detail)) throw wrong('level', detail, LEVELS);
  }
  if (section === 'topics' && !TOPICS.some((known) => known === name)) throw wrong('topic', name, TOPICS);
  if (section === 'context' && !CONTEXTS.some((known) => known === name)) throw wrong('context', name, CONTEXTS);
  if (section === 'answers' && !['any', ...Object.keys(ANSWER_KINDS)].includes(name)) {
    throw wrong('answer kind', name, ['any', ...Object.keys(ANSWER_KINDS)]);
  }
}

function singleWords(blocks: readonly Block[], ...path: string[]): string[] {
  return blocks
    .filter((block) => block.path.join(' ') === path.join(' '))
    .flatMap((block) => block.lines.flatMap((line) => line.text.split(/\s+/)));
}

function readNumbers(blocks: readonly Block[]): NumberWords {
  const valued = (name: string): Map<string, number> => {
    const out = new Map<string, number>();
    for (const block of blocks) {
      if (block.path[0] !== 'numbers' || block.path[1] !== name) continue;
      for (const line of block.lines) {
        const [, words = '', value = ''] = /^(.*\S)\s+([\d.]+)$/.exec(line.text) ?? [];
        if (words === '') throw wordsError(line, `"${line.text}": write the word, then its value: "five 5"`);
        for (const word of words.split(/\s+/)) out.set(word, Number(value));
      }
    }
    return out;
  };
  const words = (name: string): Set<string> => new Set(singleWords(blocks, 'numbers', name));
  return {
    count: valued('count'),
    slip: valued('slip'),
    part: valued('part'),
    and: words('and'),
    point: words('point'),
    range: words('range'),
    article: words('article'),
    one: words('one'),
    few: valued('few'),
    multiple: valued('multiple'),
    whole: words('whole'),
    of: words('of'),
    plus: words('plus'),
    persons: valued('persons'),
    alone: valued('alone'),
    around: words('around'),
  };
}
