import { html } from 'htm/preact';
import type { VNode } from 'preact';
import { ANSWER_KINDS, LANGUAGES } from '../../words/heard.ts';
import type { AnswerKind, Language } from '../../words/heard.ts';
import { dangerWord, quoted, tokenField } from '../layout.ts';
import { choice } from '../night/filters.ts';
import { heardInWords, withDeciding } from '../sheet/heard-words.ts';
import type { Visit } from '../visit.ts';

/** As long as the longest text a carrier hands over. */
const LONGEST = 1600;
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = { en: 'English', es: 'Spanish' };

/** What a text is to be heard as, as the form says it. What makes no sense there counts as not asked. */
interface Asked {
  readonly text: string;
  readonly lang: Language | undefined;
  readonly kind: AnswerKind | undefined;
}

function askedOf({ form }: Visit): Asked {
  const lang = LANGUAGES.find((each) => each === form.get('lang'));
  const kind = (Object.keys(ANSWER_KINDS) as AnswerKind[]).find((each) => each === form.get('asked'));
  return { text: (form.get('text') ?? '').slice(0, LONGEST), lang, kind };
}

function heardPart({ side }: Visit, { text, lang, kind }: Asked): VNode | null {
  if (text.trim() === '') return null;
  const heard = side.desk.hear(text, { lang, asked: kind });
  const stretches = withDeciding(text, heard.why).map((stretch) =>
    stretch.decided ? html`<mark>${stretch.words}</mark>` : stretch.words,
  );
  return html`<div class="said" role="status">
    <p><bdi class="words" dir="auto">${stretches}</bdi></p>
    <p>
      ${heard.danger === 'now' ? html`${dangerWord()} ` : null}Heard, in ${LANGUAGE_NAMES[heard.lang]}:${' '}
      <strong>${heardInWords(heard).join('; ')}</strong>${
        heard.why.length === 0 ? '.' : html`, by “${quoted(heard.why.join('” and “'))}”.`
      }
    </p>
  </div>`;
}

/** A box that shows what a text would be heard as. Nothing is kept of it, and no address holds it. */
export function hearBox(visit: Visit): VNode {
  const asked = askedOf(visit);
  const kinds = Object.keys(ANSWER_KINDS).map((each) => [each, each.replaceAll('-', ' ')] as const);
  return html`<h2 id="hear">What a text would be heard as</h2>
    ${heardPart(visit, asked)}
    <form method="post" action="/flows/hear#hear">
      ${tokenField(visit.formToken)}
      <p>
        <label for="text">Words as a guest might text them</label>
        <textarea id="text" name="text" maxlength=${LONGEST} dir="auto">${asked.text}</textarea>
      </p>
      <div class="line">
        ${choice(
          'lang',
          'Language of the guest',
          [['', 'by the words'], ...LANGUAGES.map((each) => [each, LANGUAGE_NAMES[each]] as const)],
          asked.lang ?? '',
        )}
        ${choice('asked', 'What was asked', [['', 'nothing: a first text'], ...kinds], asked.kind ?? '')}
        <p><button>Hear it</button></p>
      </div>
    </form>`;
}
