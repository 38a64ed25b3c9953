import { join } from 'node:path';
import express from 'express';
import type { Request, RequestHandler, Response, Router } from 'express';
import helmet from 'helmet';
import type { Answer } from './answer.ts';
import { FlowsAsDrawn } from './flows/drawn.ts';
import { busy, nothingHere, refused } from './refusal.ts';
import { ROUTES } from './routes.ts';
import { Seal } from './seal.ts';
import { TooManyAtOnce } from './sign-in/password.ts';
import { browserIn, formCookie, sessionIn } from './sign-in/session.ts';
import { NothingHere } from './visit.ts';
import type { PagesSide, Route, Visit } from './visit.ts';
import type { Person } from '../roster/roster.ts';

const ASSETS = join(import.meta.dirname, 'assets');
/** A note and a filter; nothing that a page sends is longer. */
const LARGEST_FORM = '32kb';

/** No script but our own file, nothing from elsewhere, no frame around it. */
const headers = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'"],
      mediaSrc: ["'self'"],
      connectSrc: ["'self'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
      baseUri: ["'none'"],
    },
  },
  // Links to callouts carry their token: no other site learns it. Stricter, and browsers send forms with an Origin of null.
  referrerPolicy: { policy: 'same-origin' },
});

function send(response: Response, { status, headers: fields, body }: Answer, cookie: string | null): void {
  for (const [name, value] of Object.entries(fields)) response.setHeader(name, value);
  if (cookie !== null) response.appendHeader('Set-Cookie', cookie);
  response.status(status).send(typeof body === 'string' ? body : Buffer.from(body));
}

/** Whether a form was sent from a page of this very site, as far as the browser says. */
function fromHere(request: Request, publicUrl: string): boolean {
  const site = request.get('sec-fetch-site');
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return false;
  const origin = request.get('origin');
  if (origin === undefined) return true;
  return origin === publicUrl || (URL.canParse(origin) && new URL(origin).host === request.get('host'));
}

/** The demo listens on this machine alone; a page elsewhere that names it by another host is none of its own. */
function isThisMachine(request: Request): boolean {
  return /^(localhost|127\.0\.0\.1|\[::1\])(:\d+)?$/.test(request.get('host') ?? '');
}

/** Pages that ask nobody who they are: some are opened by a token of their own, those of the demo only at its machine. */
const OPEN_TO_ALL = ['anyone', 'link', 'demo'] as const;

function mayCome(route: Route, person: Person | null): boolean {
  if (OPEN_TO_ALL.some((who) => route.who.includes(who))) return true;
  return person !== null && route.who.includes(person.role);
}

/** What a form's token is bound to: the link it came with, the session, or a cookie of the browser. */
function boundTo(route: Route, request: Request, session: string | null, cookie: string): string {
  if (route.who.includes('link')) return `link ${String(request.params['token'] ?? '')}`;
  return session ?? cookie;
}

function handler(
  side: PagesSide,
  route: Route,
  kept: () => Promise<{ seal: Seal; drawn: FlowsAsDrawn }>,
): RequestHandler {
  return async (request, response, next) => {
    if (route.who.includes('demo') && !isThisMachine(request)) return next();
    const { seal, drawn } = await kept();
    const now = side.now();
    const sent = sessionIn(side.publicUrl, request.get('cookie'));
    const person = sent === null ? null : await side.signIn.session(sent, now);
    const session = person === null ? null : sent;
    const forms = formCookie(side.publicUrl, request.get('cookie'));
    const bound = boundTo(route, request, session, forms.value);
    const [path = '', query = ''] = request.originalUrl.split('?');
    const form = new URLSearchParams(typeof request.body === 'string' ? request.body : '');
    const visit: Visit = {
      side,
      seal,
      drawn,
      person,
      session,
      browser: browserIn(side.publicUrl, request.get('cookie')),
      formToken: seal.formToken(bound),
      path,
      params: request.params as Record<string, string>,
      query: new URLSearchParams(query),
      form,
      now,
    };
    const cookie = session === null && route.method === 'get' && !route.who.includes('link') ? forms.toSet : null;
    if (!mayCome(route, person)) return send(response, await refused(visit), cookie);
    if (route.method === 'post') {
      const genuine = fromHere(request, side.publicUrl) && seal.isFormToken(form.get('token') ?? '', bound);
      if (!genuine) return send(response, await refused(visit, 'form'), cookie);
    }
    try {
      send(response, await route.answer(visit), cookie);
    } catch (error) {
      if (error instanceof TooManyAtOnce) send(response, await busy(visit), cookie);
      else if (error instanceof NothingHere) send(response, await nothingHere(visit), cookie);
      else throw error;
    }
  };
}

/** All pages and what they can do. What is not of them goes on to whatever comes after. */
export function pagesRouter(side: PagesSide): Router {
  let kept: Promise<{ seal: Seal; drawn: FlowsAsDrawn }> | null = null;
  const drawn = new FlowsAsDrawn();
  const keep = (): Promise<{ seal: Seal; drawn: FlowsAsDrawn }> => {
    kept ??= side.signIn.secret().then((secret) => ({ seal: new Seal(secret), drawn }));
    // A secret that could not be read is asked for again by the next visit.
    kept.catch(() => (kept = null));
    return kept;
  };
  const router = express.Router();
  router.use('/assets', headers, express.static(ASSETS, { index: false, maxAge: '1h' }));
  const readForm = express.text({ type: 'application/x-www-form-urlencoded', limit: LARGEST_FORM });
  // With a real carrier the demo's pages are not hidden: there are none.
  const routes = ROUTES.filter((route) => side.demo !== null || !route.who.includes('demo'));
  for (const route of routes) {
    if (route.method === 'get') router.get(route.path, headers, handler(side, route, keep));
    else router.post(route.path, headers, readForm, handler(side, route, keep));
  }
  return router;
}
