import type { Language } from '../words/heard.ts';

/**
 * Texts tell people to reply, in capitals, with signs and brackets; a voice says the same in words. What a step would
 * have said otherwise than these rules make of it has a wording of its own.
 */
type Rule = readonly [RegExp, string | ((...found: string[]) => string)];

/** A word that a guest is to text, in capitals, as a voice says it. */
const lowered = (words: string): string => words.toLowerCase();

const CAPITALS = String.raw`([A-ZÁÉÍÓÚÑ]{2,}(?:[ ][A-ZÁÉÍÓÚÑ0-9]+)*)`;

const RULES: Readonly<Record<Language, readonly Rule[]>> = {
  en: [
    // How to answer is said with the keys.
    [/\bReply (?:YES|with the number)[^.?!]*[.?!]\s*/g, ''],
    [/If (?:you cannot|the ball does not rise), reply NO\.\s*/g, ''],
    [/\((?!\d)[^)]*\)/g, ''],
    [new RegExp(String.raw`\bReply ${CAPITALS}`, 'g'), (_, words = '') => `Say ${lowered(words)}`],
    [new RegExp(String.raw`\breply ${CAPITALS}`, 'g'), (_, words = '') => `say ${lowered(words)}`],
    [/\bTell me YES\b/g, 'Tell me yes'],
    [new RegExp(String.raw`\btext me:? ${CAPITALS}`, 'g'), (_, words = '') => `tell me: ${lowered(words)}`],
    [/\btext me\b/g, 'tell me'],
    [/\bText (how long)\b/g, 'Tell me $1'],
    [/\bText me (their|your)\b/g, 'Tell me $1'],
    [/\bText me\b/g, 'Call or text me'],
    [/\bsend me\b/g, 'tell me'],
    [/\bI am texting\b/g, 'I am calling'],
    [
      /\b(you|[Ww]riting) (?:write )?for a guest\b/g,
      (_, who = '') => `${who === 'you' ? 'you call' : 'Calling'} for a guest`,
    ],
    [/\bby voice call\b|, by voice\b/g, ''],
    [/\b1 ?ft\b/g, '1 foot'],
    [/(\d) ?ft\b/g, '$1 feet'],
    [/L\/min\b/g, 'liters a minute'],
    [/(\d) ?%/g, '$1 percent'],
    [/&/g, 'and'],
  ],
  es: [
    [/\bResponda (?:SÍ|SI|con el número)[^.?!]*[.?!]\s*/g, ''],
    [/Si (?:no puede|la bolita no sube), responda NO\.\s*/g, ''],
    [/\((?!\d)[^)]*\)/g, ''],
    [
      new RegExp(String.raw`\b([Rr]esponda|[Ee]scriba) ${CAPITALS}`, 'g'),
      (_, verb = '', words = '') => `${/^[A-Z]/.test(verb) ? 'Diga' : 'diga'} ${lowered(words)}`,
    ],
    [/\bDígame SÍ\b/g, 'Dígame sí'],
    [/\bEscriba (cuando|si|a cualquier)\b/g, 'Llame o escriba $1'],
    [/\bescriba enseguida o llame\b/g, 'llame enseguida aquí o'],
    [/\bescriba enseguida\b/g, 'llame enseguida'],
    [/(?<!Llame o )\bescriba\b/g, 'diga'],
    [/\bMande\b/g, 'Dígame'],
    [/\bmande\b/g, 'dígame'],
    [/\bmándemelo\b/g, 'dígamelo'],
    [/\bmándemelas\b/g, 'dígamelas'],
    [/\b([Yy])a le escribo\b/g, '$1a llamo'],
    [/\b([Ee])scribe por un huésped\b/g, (_, first = '') => `${first === 'E' ? 'L' : 'l'}lama por un huésped`],
    [/\b(?:, )?llamada de voz\b|, de voz\b/g, ''],
    [/(\d) ?%/g, '$1 por ciento'],
    [/L\/min\b/g, 'litros por minuto'],
    [/&/g, 'y'],
  ],
};

/** The rest of what is shouted in a text ("YES", "NO POWER"). */
const SHOUTED = /\b[A-ZÁÉÍÓÚÑ]{2,}(?:\s[A-ZÁÉÍÓÚÑ]{2,})*\b/g;
/** What a voice spells stays as it is: letters of tags, names of illnesses. */
const SPELLED = /^(NB|COPD|EPOC)$/;

/** A text as it can be said: how to reply left out, what is to be texted said, signs in words, nothing in capitals. */
export function speakable(text: string, lang: Language): string {
  const said = RULES[lang].reduce<string>(
    (words, [pattern, by]) => (typeof by === 'string' ? words.replace(pattern, by) : words.replace(pattern, by)),
    text,
  );
  return said
    .replace(SHOUTED, (word) => (SPELLED.test(word) ? word : lowered(word)))
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/\s+([.,;:?!])/g, '$1')
    .trim();
}

/** What must not be left in words that are said: how to reply by text, signs and addresses. */
const UNSPEAKABLE: Readonly<Record<Language, RegExp>> = {
  en: /\b[Rr]eply\b|\bI am texting the\b|https?:|[()[\]{}<>/%&#*_=@]/,
  es: /\b[Rr]esponda\b|\ble escribo\b|https?:|[()[\]{}<>/%&#*_=@]/,
};

/** What of a spoken wording cannot be said; null when all of it can. */
export function unspeakableIn(words: string, lang: Language): string | null {
  return UNSPEAKABLE[lang].exec(words)?.[0] ?? null;
}

/** The sentences of a wording, each with its end. */
export function sentencesOf(words: string): readonly string[] {
  return words.split(/(?<=[.?!])\s+(?=[\p{Lu}\d¿¡"“])/u).filter((sentence) => sentence !== '');
}
