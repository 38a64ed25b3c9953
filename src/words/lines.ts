import { ANSWER_KINDS, LANGUAGES, type AnswerKind, type Hear, type Language, type Listening } from './heard.ts';

/**
 * Hears one line of JSON (`id`, `text`, optional `lang`, `asked`, `choices`, `now`) and gives the line to print.
 * A line that cannot be read gives `{"id": null, "error": ...}` and `ok` false; the error never quotes the guest.
 */
export function hearLine(line: string, hear: Hear): { out: string; ok: boolean } {
  const request = readRequest(line);
  if (typeof request === 'string') return { out: JSON.stringify({ id: null, error: request }), ok: false };
  const { lang, danger, signs, topic, answer, why } = hear(request.text, request.listening);
  return { out: JSON.stringify({ id: request.id, lang, danger, signs, topic, answer, why }), ok: true };
}

function readRequest(line: string): { id: string | number; text: string; listening: Listening } | string {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return 'not JSON; write one object a line with "id" and "text"';
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return 'not an object with "id" and "text"';
  const { id, text, lang, asked, choices, now } = value as Record<string, unknown>;
  if (typeof id !== 'string' && typeof id !== 'number') return `"id" is ${kindOf(id)}; it must be a string or a number`;
  if (typeof text !== 'string') return `"text" is ${kindOf(text)}; it must be a string`;
  if (!isAbsent(lang) && !LANGUAGES.some((known) => known === lang))
    return `"lang" must be one of ${LANGUAGES.join(', ')}`;
  if (!isAbsent(asked) && (typeof asked !== 'string' || !Object.hasOwn(ANSWER_KINDS, asked))) {
    return `"asked" must be one of ${Object.keys(ANSWER_KINDS).join(', ')}`;
  }
  if (
    !isAbsent(choices) &&
    (!Array.isArray(choices) || !choices.every((one) => ['string', 'number'].includes(typeof one)))
  ) {
    return '"choices" must be a list of values of the answer kind';
  }
  if (!isAbsent(now) && (typeof now !== 'string' || Number.isNaN(Date.parse(now)))) {
    return '"now" must be an ISO 8601 time with its zone, as 2026-11-25T02:10:00-07:00';
  }
  return {
    id,
    text,
    listening: {
      lang: (lang ?? undefined) as Language | undefined,
      asked: (asked ?? undefined) as AnswerKind | undefined,
      choices: isAbsent(choices) ? undefined : (choices as (string | number)[]).map(String),
      now: now ?? undefined,
    },
  };
}

function isAbsent(value: unknown): value is null | undefined {
  return value === undefined || value === null;
}

function kindOf(value: unknown): string {
  return value === undefined
    ? 'missing'
    : value === null
      ? 'null'
      : Array.isArray(value)
        ? 'a list'
        : `a ${typeof value}`;
}
