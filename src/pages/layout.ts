import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Person } from '../roster/roster.ts';
import type { Visit } from './visit.ts';

/** The sheets a person can turn to. */
const SHEETS: Readonly<Record<Person['role'], readonly (readonly [string, string])[]>> = {
  owner: [
    ['/night', 'Night'],
    ['/callouts', 'Callouts'],
    ['/numbers', 'Numbers'],
    ['/roster', 'Roster'],
    ['/rentals', 'Rentals'],
    ['/places', 'Places'],
    ['/flows', 'Flows'],
    ['/learned', 'Learned'],
    ['/people', 'People'],
  ],
  technician: [
    ['/callouts', 'Callouts'],
    ['/roster', 'Roster'],
  ],
};

function tabs({ person, path, formToken }: Visit): VNode | null {
  if (person === null) return null;
  return html`<nav aria-label="Sheets">
    <ul class="tabs">
      ${SHEETS[person.role].map(
        ([to, name]) =>
          html`<li>
            <a href=${to} aria-current=${path === to || path.startsWith(`${to}/`) ? 'page' : undefined}>${name}</a>
          </li>`,
      )}
      <li class="leave">
        <a href="/account" aria-current=${path === '/account' ? 'page' : undefined}>${person.name}</a>
      </li>
      <li>
        <form method="post" action="/sign-out">${tokenField(formToken)}<button class="plain">Sign out</button></form>
      </li>
    </ul>
  </nav>`;
}

/** What every form carries, so that no other site can send it. */
export function tokenField(formToken: string): VNode {
  return html`<input type="hidden" name="token" value=${formToken} />`;
}

export interface Leaf {
  readonly title: string;
  readonly body: unknown;
  /** Pages that keep themselves up to date bring the script along. */
  readonly script?: boolean;
  /** For a hand, not a desk: nothing but the leaf. */
  readonly bare?: boolean;
  /** Wider than a sheet of paper, for two things side by side. */
  readonly wide?: boolean;
}

/** A whole page: a leaf of the night's book under the outfit's name. */
export function leaf(visit: Visit, { title, body, script = false, bare = false, wide = false }: Leaf): VNode {
  const { outfit } = visit.side;
  return html`<html lang="en">
    <head>
      <meta charset="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <meta name="color-scheme" content="light dark" />
      <meta name="robots" content="noindex" />
      <title>${title} · ${outfit.name}</title>
      <link rel="stylesheet" href="/assets/sheet.css" />
      <link rel="stylesheet" href="/assets/keeping.css" />
      <link rel="icon" href="/assets/bell.svg" type="image/svg+xml" />
      ${script ? html`<script src="/assets/live.js" defer></script>` : null}
    </head>
    <body class=${[bare ? 'bare' : '', wide ? 'wide' : ''].join(' ').trim()}>
      <a class="skip" href="#leaf">To the sheet</a>
      <header>
        <p class="outfit">${outfit.name}<span>night desk</span></p>
        ${bare ? null : tabs(visit)}
      </header>
      <main id="leaf">
        <h1>${title}</h1>
        ${body}
      </main>
    </body>
  </html>`;
}

/** Danger as a word in a barred box: it is read without its colour. */
export function dangerWord(): VNode {
  return html`<strong class="danger">Danger</strong>`;
}

/** Words of someone else's, as they were written, in their own direction. */
export function quoted(words: string): VNode {
  return html`<bdi class="words" dir="auto">${words}</bdi>`;
}
