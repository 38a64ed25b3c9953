import { execFileSync, spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { flowsOf } from '../../src/flow/turn.ts';
import { LONGEST } from '../../src/flow/profiles.ts';
import { loadBook } from '../../src/flow/load.ts';
import { areKnown, needsOf } from '../../src/flow/needs.ts';
import { inPrompts, isAsked, speakPhrase, speakStep } from '../../src/flow/speak.ts';
import { LONGEST_PROMPT_S, secondsToSay } from '../../src/flow/speech-time.ts';
import { CallWords } from '../../src/desk/caller/prompts.ts';
import { SIGNS } from '../../src/words/heard.ts';
import type { Language } from '../../src/words/heard.ts';

/**
 * How long prompts take, measured with a speech synthesiser from outside: espeak-ng (Debian package) at 160 words a minute,
 * a usual rate of speech, its voices en-us and es-419. The desk's own estimate must not be shorter than it.
 */
const VOICES: Readonly<Record<Language, string>> = { en: 'en-us', es: 'es-419' };
const WORDS_PER_MINUTE = '160';
const missing = spawnSync('espeak-ng', ['--version']).status !== 0;

/** Seconds that espeak-ng takes: 16-bit mono at 22,050 Hz behind a header of 44 bytes. */
function measured(words: string, lang: Language): number {
  const wav = execFileSync('espeak-ng', ['-v', VOICES[lang], '-s', WORDS_PER_MINUTE, '--stdout', words], {
    maxBuffer: 50_000_000,
  });
  return (wav.length - 44) / 2 / 22_050;
}

const { book } = loadBook();
const flows = flowsOf(book);

/** Every prompt of the flows, and of a call around them, with the longest values that the records allow. */
function promptsIn(lang: Language): readonly string[] {
  const tail = speakPhrase(book.voice, 'next-or-text', lang, LONGEST, book);
  const ofSteps = [...flows.steps.values()].flatMap((step) => {
    if (step.says === 'emergency' || !areKnown(needsOf(step), LONGEST)) return [];
    const { sentences, offer } = speakStep(step, lang, LONGEST, book, book.voice);
    const prompts = inPrompts([], sentences, offer === '' ? [] : [offer], isAsked(step) ? tail : '', lang);
    return prompts.map((prompt, index) =>
      [...prompt.sentences, ...(prompt.goesOnBy === 'word' && index < prompts.length - 1 ? [tail] : [])].join(' '),
    );
  });
  const words = new CallWords({ lang, facts: LONGEST, flows, today: book, canText: true });
  const ofDanger = SIGNS.flatMap((sign) => words.emergency([sign]).prompts.map(({ sentences }) => sentences.join(' ')));
  const around = Object.values(book.voice.says).map((wording) => wording[lang].replaceAll(/[{}]/g, ''));
  return [...new Set([...ofSteps, ...ofDanger, ...around])];
}

/** What is estimated to be far from too long need not be measured: the estimate is held to the measure in the others. */
const WORTH_MEASURING_S = 12;

describe.skipIf(missing)(`prompts as espeak-ng speaks them${missing ? ' (left out: no espeak-ng here)' : ''}`, () => {
  test.each(['en', 'es'] as const)(
    'none takes longer than 20 seconds, and the estimate is never short, in %s',
    (lang) => {
      const prompts = promptsIn(lang);
      expect(prompts.length).toBeGreaterThan(150);
      const long = prompts.filter((words) => secondsToSay(words, lang) > WORTH_MEASURING_S);
      expect(long.length).toBeGreaterThan(20);
      const seconds = long.map((words) => ({ words, s: measured(words, lang), estimate: secondsToSay(words, lang) }));
      expect(seconds.filter(({ s }) => s > LONGEST_PROMPT_S)).toEqual([]);
      expect(seconds.filter(({ s, estimate }) => s > estimate + 0.5)).toEqual([]);
      const longest = Math.max(...seconds.map(({ s }) => s));
      console.log(`${lang}: ${prompts.length} prompts, ${long.length} measured, the longest ${longest.toFixed(1)} s`);
    },
    120_000,
  );
});
