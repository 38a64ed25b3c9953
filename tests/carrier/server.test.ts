import { expect, onTestFinished, test } from 'vitest';
import { serve } from '../../src/server.ts';

test('stopping lets the answer under way go out, and takes no new request', async () => {
  const arrived = Promise.withResolvers<void>();
  const answer = Promise.withResolvers<void>();
  const server = await serve(
    (_request, response) => {
      arrived.resolve();
      void answer.promise.then(() => response.end('answered'));
    },
    0,
    '127.0.0.1',
  );
  const here = `http://127.0.0.1:${server.port}`;
  const underWay = fetch(here, { headers: { Connection: 'close' } });
  await arrived.promise;
  const stopped = server.stop();
  await expect(fetch(here)).rejects.toThrow();
  answer.resolve();
  expect(await (await underWay).text()).toBe('answered');
  await stopped;
});

test('a port that is taken is an error that says what to do', async () => {
  const first = await serve((_request, response) => void response.end(), 0, '127.0.0.1');
  onTestFinished(() => first.stop());
  await expect(serve(() => {}, first.port, '127.0.0.1')).rejects.toThrow(/EADDRINUSE.*set PORT to another/);
});
