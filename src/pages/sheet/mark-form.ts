import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Entry } from '../../desk/records.ts';
import { ANSWER_KINDS, DANGERS, SIGNS, TOPICS } from '../../words/heard.ts';
import type { AnswerKind } from '../../words/heard.ts';
import { tokenField } from '../layout.ts';
import type { Expected } from '../records.ts';
import type { Visit } from '../visit.ts';
import type { KeptHeard } from './heard-words.ts';

const spoken = (name: string): string => name.replaceAll('-', ' ');

function options(values: readonly string[], chosen: string | null, none: string | null): readonly VNode[] {
  const all = [
    ...(none === null ? [] : [['', none] as const]),
    ...values.map((value) => [value, spoken(value)] as const),
  ];
  return all.map(
    ([value, words]) => html`<option value=${value} selected=${value === (chosen ?? '')}>${words}</option>`,
  );
}

function answerField(id: string, kind: AnswerKind, expected: Expected['answer']): VNode {
  const { values, number } = ANSWER_KINDS[kind];
  const known = [...values, 'unsure', 'no-answer'].join(', ');
  return html`<p>
    <label for=${`answer-${id}`}
      >Answer to the question, ${spoken(kind)}: ${known}${number ? ', or a number' : ''}</label
    >
    <input id=${`answer-${id}`} name="answer" type="text" maxlength="40" value=${expected ?? ''} />
  </p>`;
}

/** The form that says what a line should have been heard as; it begins with what was heard, or marked before. */
export function markForm(
  { seal, formToken, path }: Visit,
  entry: Entry,
  asked: AnswerKind | null,
  marked: Expected | null,
): VNode {
  const id = seal.id('entry', entry.id);
  const heard = entry.heard as KeptHeard;
  const now: Expected = marked ?? {
    danger: heard.danger ?? 'none',
    signs: heard.signs ?? [],
    topic: heard.topic ?? null,
    answer: heard.answer ?? null,
  };
  return html`<details>
    <summary>${marked === null ? 'Heard wrong?' : 'Marked as heard wrong'}</summary>
    <form method="post" action=${`${path}/mark`}>
      ${tokenField(formToken)}
      <input type="hidden" name="entry" value=${id} />
      <p>
        <label for=${`danger-${id}`}>How urgent it was</label>
        <select id=${`danger-${id}`} name="danger">
          ${options(DANGERS, now.danger, null)}
        </select>
      </p>
      <fieldset>
        <legend>Signs in it</legend>
        ${SIGNS.map(
          (sign) =>
            html`<label class="check"
              ><input type="checkbox" name="sign" value=${sign} checked=${now.signs.includes(sign)} />
              ${spoken(sign)}</label
            >`,
        )}
      </fieldset>
      <p>
        <label for=${`topic-${id}`}>Topic</label>
        <select id=${`topic-${id}`} name="topic">
          ${options(TOPICS, now.topic, 'none')}
        </select>
      </p>
      ${asked === null ? null : answerField(id, asked, now.answer)}
      <button>Keep what it should have been</button>
      ${marked === null ? null : html` <button class="second" name="undo" value="yes">It was heard right</button>`}
    </form>
  </details>`;
}

/** What such a form says; null when it is none that this page made. */
export function expectedIn(form: URLSearchParams, asked: AnswerKind | null): Expected | null {
  const danger = form.get('danger') ?? '';
  const signs = form.getAll('sign');
  const topic = form.get('topic') ?? '';
  const written = (form.get('answer') ?? '').trim();
  const isKnown = (values: readonly string[], value: string): boolean => values.includes(value);
  if (!isKnown(DANGERS, danger) || !signs.every((sign) => isKnown(SIGNS, sign))) return null;
  if (topic !== '' && !isKnown(TOPICS, topic)) return null;
  const answer = answerIn(written, asked);
  if (answer === undefined) return null;
  return { danger, signs: signs.toSorted(), topic: topic === '' ? null : topic, answer };
}

function answerIn(written: string, asked: AnswerKind | null): string | number | null | undefined {
  if (asked === null) return null;
  if (written === '') return 'no-answer';
  const { values, number } = ANSWER_KINDS[asked];
  if ((values as readonly string[]).includes(written) || written === 'unsure' || written === 'no-answer')
    return written;
  return number && /^\d{1,3}(\.\d{1,2})?$/.test(written) ? Number(written) : undefined;
}
