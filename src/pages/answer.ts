import type { VNode } from 'preact';
import { renderToStringAsync } from 'preact-render-to-string';

/** What a page or an action answers with, as a value. */
export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | readonly string[]>>;
  /** Text, or the bytes of a picture. */
  readonly body: string | Uint8Array;
}

const HTML = 'text/html; charset=utf-8';

/** A whole page. Everything in it was escaped by construction. */
export async function page(tree: VNode, status = 200): Promise<Answer> {
  const body = `<!doctype html>${await renderToStringAsync(tree)}`;
  return { status, headers: { 'Content-Type': HTML, 'Cache-Control': 'no-store' }, body };
}

/** A piece of a page, for the script that keeps it up to date. */
export async function fragment(tree: VNode): Promise<Answer> {
  const headers = { 'Content-Type': HTML, 'Cache-Control': 'no-store' };
  return { status: 200, headers, body: await renderToStringAsync(tree) };
}

/** After an action: the browser fetches another page, so that going back does not act again. */
export function seeOther(path: string, ...cookies: readonly string[]): Answer {
  const headers = { Location: path, ...(cookies.length === 0 ? {} : { 'Set-Cookie': cookies }) };
  return { status: 303, headers, body: '' };
}

/** A table to take away. */
export function csvFile(name: string, body: string): Answer {
  return {
    status: 200,
    headers: {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': `attachment; filename="${name}"`,
      'Cache-Control': 'no-store',
    },
    body,
  };
}
