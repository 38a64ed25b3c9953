import { LANGUAGES } from '../../words/heard.ts';
import type { Facts } from '../facts.ts';
import type { ReadDocument } from '../../reading/yaml.ts';
import type { Finding, PassageRule, WordingRule } from './finding.ts';
import { findingAt } from './finding.ts';
import { fillPlaceholders, placeholdersIn } from '../needs.ts';
import type { Wording } from '../document.ts';

/** A number as written in a sentence: 2, 2.5. */
const NUMBER = /\d+(?:\.\d+)?/g;
/** An amount spelled out: the unit beside it makes it a number that belongs to limits.yaml or the order. */
const SPELLED_AMOUNT =
  /\b(two|three|four|five|six|seven|eight|nine|ten|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez) (minutes?|hours?|seconds?|feet|ounces?|lit(er|re)s?|minutos?|horas?|segundos?|pies|onzas?|litros?)\b/i;

/** The wordings of a document, with where they stand. */
function wordingsOf(document: ReadDocument<unknown>): readonly [string, Wording][] {
  const found: [string, Wording][] = [];
  const visit = (value: unknown, path: readonly string[]): void => {
    if (typeof value !== 'object' || value === null) return;
    if (LANGUAGES.every((lang) => typeof (value as Record<string, unknown>)[lang] === 'string')) {
      const { line } = document.placeOf(path);
      found.push([`${document.file}:${line}`, value as Wording]);
      return;
    }
    for (const [key, part] of Object.entries(value)) visit(part, [...path, key]);
  };
  visit(document.value, []);
  return found;
}

/** Numbers in the sentences of flows come from the order, the model sheet or limits.yaml; none is typed into one. */
export const noTypedNumbers: WordingRule = (read) =>
  read.flows.flatMap((document) =>
    wordingsOf(document).flatMap(([where, wording]): Finding[] =>
      LANGUAGES.flatMap((lang) => {
        const bare = fillPlaceholders(wording[lang], () => '');
        const typed = bare.match(NUMBER)?.[0] ?? SPELLED_AMOUNT.exec(bare)?.[0];
        const message = `${lang}: "${typed}" is typed into the sentence; name it in limits.yaml and write {its-name}`;
        return typed === undefined ? [] : [{ rule: 'numbers', where, message, path: [] }];
      }),
    ),
  );

/** Both languages of a wording name the same facts and limits, and write the same other numbers. */
export const sameNumbersInBoth: WordingRule = (read) =>
  [...read.flows, read.phrases, read.emergency].flatMap((document) =>
    wordingsOf(document as ReadDocument<unknown>).flatMap(([where, wording]): Finding[] => {
      const numbers = (words: string): string =>
        [...placeholdersIn(words), ...(fillPlaceholders(words, () => '').match(NUMBER) ?? [])].toSorted().join(' ');
      const [one, ...others] = LANGUAGES.map((lang) => numbers(wording[lang]));
      if (others.every((other) => other === one)) return [];
      const message = `the languages say different numbers: ${[one, ...others].map((each) => `"${each}"`).join(' and ')}`;
      return [{ rule: 'languages', where, message, path: [] }];
    }),
  );

/**
 * A mask with a bag is set by its own setting, which keeps the bag full; a maximum is named only as what not to pass.
 */
export const rightSettingNamed: WordingRule = (read) =>
  read.flows.flatMap((document) =>
    wordingsOf(document).flatMap(([where, wording]): Finding[] =>
      LANGUAGES.flatMap((lang) => {
        const sentences = wording[lang].split(/(?<=[.?!;])\s+/);
        const mask = /\b(mask|mascarilla|bag|bolsa)\b/i.test(wording[lang]);
        const wrong = sentences.flatMap((sentence) => {
          const named = placeholdersIn(sentence);
          const usual = named.some((name) => name.startsWith('setting'));
          const limit = named.includes('maximum') && !/\b(above|over|never|encima|nunca|m[aá]s de)\b/i.test(sentence);
          if (mask && usual) return ['the mask has {mask-setting}; another setting may let its bag collapse'];
          return limit ? ['{maximum} may only be named as what not to pass'] : [];
        });
        return wrong.map((message) => ({ rule: 'settings', where, message: `${lang}: ${message}`, path: [] }));
      }),
    ),
  );

function knownNumbers(facts: Facts, limits: readonly number[]): ReadonlySet<number> {
  const texts = [
    facts.address,
    facts.room,
    facts.frontDesk,
    facts.directNumber,
    facts.emergencyNumber,
    facts.unitTag,
    facts.outfit,
  ];
  const written = texts.flatMap((text) => text?.match(NUMBER) ?? []).map(Number);
  const settings = [facts.setting, facts.settingForOne, facts.settingForTwo, facts.maskSetting].flatMap((setting) =>
    setting === null ? [] : [setting.fromLpm, setting.toLpm],
  );
  return new Set([...written, ...settings, facts.maximumFlowRateLpm ?? 0, facts.refillHours ?? 0, ...limits]);
}

/** No line says a number that is not the guest's own order, the model's, the property's, or a limit. */
export const noOtherNumberSaid: PassageRule = (passage, flows) => {
  const { turn, from } = passage;
  // The emergency reply names public help lines; its words have rules of their own.
  if (turn.inDanger) return [];
  const known = knownNumbers(
    from.facts,
    Object.values(flows.book.limits.limits).map((limit) => limit.value),
  );
  const sentences = turn.lines.flatMap((line) => line.split('\n').filter((row) => !/^\d /.test(row)));
  const other = sentences.flatMap((words) => words.match(NUMBER) ?? []).find((number) => !known.has(Number(number)));
  if (other === undefined || sentences.some((words) => words.includes('NB-'))) return [];
  return [
    findingAt('numbers', passage, `it says ${other}, which is neither the guest's order, the unit's, nor a limit`),
  ];
};
