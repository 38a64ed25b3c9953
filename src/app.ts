import express from 'express';
import type { ErrorRequestHandler, Express } from 'express';
import helmet from 'helmet';
import type { CarrierSide } from './carrier/routes.ts';
import { carrierRoutes } from './carrier/routes.ts';
import { failureOf } from './carrier/failure.ts';
import type { Logger } from 'pino';
import { pagesRouter } from './pages/router.ts';
import type { PagesSide } from './pages/visit.ts';

/** Tells the client the status and nothing of the inside: a body that is too large, a broken encoding, or 500. */
function answerErrors(log: Logger): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    if (response.headersSent) return next(error);
    const { status } = failureOf(error);
    const shown = status !== null && status >= 400 && status < 500 ? status : 500;
    // A client's mistake may carry the client's words in its message; of ours everything is needed.
    const failure = shown === 500 ? failureOf(error) : { type: (error as Error).name, status: shown };
    log[shown === 500 ? 'error' : 'warn']({ method: request.method, path: request.path, failure }, 'a request failed');
    response
      .status(shown)
      .type('text/plain')
      .send(shown === 500 ? 'Something went wrong here.\n' : 'Refused.\n');
  };
}

/** The whole web side: the carrier's routes, a sign of life, the pages where there are some, and 404. */
export function nightbellApp(side: CarrierSide & { readonly pages: PagesSide | null }): Express {
  const app = express();
  app.disable('x-powered-by');
  app.use(helmet());
  app.use(carrierRoutes(side));
  app.get('/healthz', (_request, response) => {
    response.type('text/plain').send('ok\n');
  });
  if (side.pages !== null) app.use(pagesRouter(side.pages));
  app.use((_request, response) => {
    response.status(404).type('text/plain').send('Nothing is here.\n');
  });
  app.use(answerErrors(side.log));
  return app;
}
