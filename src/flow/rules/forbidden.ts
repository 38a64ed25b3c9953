import { LANGUAGES } from '../../words/heard.ts';
import type { Language } from '../../words/heard.ts';
import type { Step } from '../document.ts';
import type { Finding, WordingRule } from './finding.ts';

/** Things that no sentence may tell a guest to do. A sentence that forbids them says so with a no before it. */
const NEVER: readonly { readonly what: string; readonly words: Readonly<Record<Language, RegExp>> }[] = [
  {
    what: 'open the unit',
    words: {
      en: /\b(open|unscrew|take apart)\b[^.?!]{0,25}\b(unit|machine|case|cover|cabinet)\b/i,
      es: /\b(abr[ae]n?|desatornill\w+|desarm\w+)\b[^.?!]{0,25}\b(equipo|m[aá]quina|carcasa|tapa del equipo)\b/i,
    },
  },
  {
    what: 'reset a breaker',
    words: {
      en: /\b(breaker|fuse box|electrical panel)\b/i,
      es: /\b(breaker|pastillas?|t[eé]rmica|disyuntor|tablero el[eé]ctrico)\b/i,
    },
  },
  {
    what: 'use an extension cord',
    words: {
      en: /\b(extension cords?|power strips?)\b/i,
      es: /\b(extensi[oó]n|extensiones|regletas?|multicontactos?)\b/i,
    },
  },
  {
    what: 'put oil or balm on the face',
    words: { en: /\b(oil|balm|petroleum|vaseline|lotion)\b/i, es: /\b(aceite|b[aá]lsamo|vaselina|crema)\b/i },
  },
  { what: 'drive', words: { en: /\bdrive (yourself|there|down|to)\b/i, es: /\b(maneje|conduzca)\b/i } },
];

const FORBIDS: Readonly<Record<Language, RegExp>> = {
  en: /\b(no|not|never|don't|do not|without)\b/i,
  es: /\b(no|nunca|sin|ni|nada de|jam[aá]s)\b/i,
};

/** Words that take a guest off oxygen for a while. */
const PAUSES: Readonly<Record<Language, RegExp>> = {
  en: /\b(bottle off|lid back|switch (the unit |it )?off|unplug|roll the whole unit|take (the|your) (prongs|cannula|mask) off|outlet for|put (the|your) (tube|hose) (in|into) a glass)\b/i,
  es: /\b(saque la botella|afloje la tapa|apague el equipo|desenchuf\w+|lleve el equipo|qu[ií]tese|tape la salida)\b/i,
};
const BREATHLESS: Readonly<Record<Language, RegExp>> = { en: /short of breath|breathless/i, es: /falta el aire/i };

/** Whether words take a guest off oxygen for a while. */
export function pausesOxygen(words: string, lang: Language): boolean {
  return PAUSES[lang].test(words);
}

/** Whether words say what to do when breathless. */
export function namesBreath(words: string, lang: Language): boolean {
  return BREATHLESS[lang].test(words);
}

function sentencesOf(step: Step, lang: Language): readonly string[] {
  const words = [step.tell, step.ask, step.spoken].flatMap((wording) => (wording === undefined ? [] : [wording[lang]]));
  return words.flatMap((each) => each.split(/(?<=[.?!:;])\s+/));
}

/** Nothing tells a guest to do what only a technician or the property's own staff may do, or what burns. */
export const nothingForbidden: WordingRule = (_read, flows) =>
  [...flows.steps].flatMap(([where, step]): Finding[] =>
    LANGUAGES.flatMap((lang) =>
      sentencesOf(step, lang).flatMap((sentence) =>
        NEVER.filter(({ words }) => words[lang].test(sentence) && !FORBIDS[lang].test(sentence)).map(({ what }) => ({
          rule: 'forbidden',
          where,
          message: `${lang}: no sentence may tell a guest to ${what}: "${sentence}"`,
          path: [],
        })),
      ),
    ),
  );

/** Oxygen pauses only in steps marked so, and those say what to do if breathless. */
export const pausesAreMarked: WordingRule = (_read, flows) =>
  [...flows.steps].flatMap(([where, step]): Finding[] =>
    LANGUAGES.flatMap((lang) => {
      const words = sentencesOf(step, lang).join(' ');
      const marked = step['pauses-oxygen'] === true;
      const finding = (message: string): Finding => ({
        rule: 'pause',
        where,
        message: `${lang}: ${message}`,
        path: [],
      });
      if (!marked && PAUSES[lang].test(words))
        return [finding('this takes the guest off oxygen; mark it pauses-oxygen')];
      if (marked && !BREATHLESS[lang].test(words))
        return [finding('say what to do if short of breath while oxygen pauses')];
      return [];
    }),
  );
