import { join } from 'node:path';
import { pino } from 'pino';
import { nightbellApp } from '../../app.ts';
import { postSigned, postText } from '../../carrier/signed-post.ts';
import { staticVoice } from '../../carrier/static-fallback.ts';
import { openSpool } from '../../carrier/spool.ts';
import { textsIn } from '../../carrier/twiml.ts';
import { serve } from '../../server.ts';
import type { Instant } from '../../time/instant.ts';
import type { CallLine } from '../caller-on-line.ts';
import type { DemoDesk } from '../demo-desk.ts';
import { webhookLine } from './webhook-line.ts';

const VOICE_FALLBACK = staticVoice({
  outfitName: 'Quillmere Basin Oxygen',
  emergencyNumber: '911',
  directPhone: '+19705550190',
});

/** A way to bring texts and calls to the desk and get its replies. */
export interface Door {
  say(text: { readonly id: string; readonly from: string; readonly words: string }): Promise<string | null>;
  readonly line: CallLine;
  close(): Promise<void>;
}

const DESK_NUMBER = '+19705550100';

/** Straight to the desk, in process. */
export function deskDoor({ desk }: DemoDesk): Door {
  return {
    async say({ id, from, words }) {
      const reply = await desk.receive({ id, from, to: DESK_NUMBER, text: words, media: [] });
      return reply.text;
    },
    line: desk,
    close: async () => {},
  };
}

/** Through the webhook: a signed form to a port of this machine, and the reply out of its TwiML. */
export async function webhookDoor(demo: DemoDesk): Promise<Door> {
  const { desk, folder } = demo;
  const now = (): Instant => demo.now();
  const log = pino({ level: 'warn' }, pino.destination(2));
  const under = { token: 'a-token-for-this-rehearsal-only', publicUrl: 'https://desk.example.com' };
  const spool = openSpool(join(folder, 'spool.jsonl'), log);
  const server = await serve(
    nightbellApp({ desk, spool, log, ...under, now, pages: null, voiceFallback: VOICE_FALLBACK }),
    0,
    'localhost',
  );
  const here = `http://localhost:${server.port}`;
  return {
    line: webhookLine((path, form) => postSigned(here, under, path, form), DESK_NUMBER),
    async say({ id, from, words }) {
      const answer = await postText(here, under, {
        id,
        from,
        to: DESK_NUMBER,
        body: words,
      });
      if (!answer.ok) throw new Error(`the webhook refused a text: ${answer.status}`);
      return textsIn(answer.body)[0] ?? null;
    },
    close: () => server.stop(),
  };
}
