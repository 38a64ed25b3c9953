import { parseArgs } from 'node:util';
import { phoneOf } from '../reading/phone.ts';
import { LANGUAGES } from '../words/heard.ts';
import type { Language } from '../words/heard.ts';
import { instantOf } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';

export const CHAT_USAGE = `npm run chat -- [--as NUMBER] [--lang en|es] [--now TIME]
Be a guest's phone against the real desk; what the technicians' phones receive is shown too.
  --as NUMBER   the guest's number (default +1 970 555 0101, a guest of the demo; +1 970 555 0199 is unknown to it)
  --lang        the language the guest is known to write
  --now TIME    the time it is, ISO 8601 with a zone (2026-11-25T02:10:00-07:00)
Type a text, or:  /wait PT3M  let time pass    /as NUMBER  write from another phone
                  /press 1  pick up the last call that rang and press a key    /quit
In place of texts: /call     call the desk; what you type is said then, or keys where it is only those (1, 0, *)
                   /silence  say nothing    /hangup    end the call
Words may be piped in, one text a line.`;

const DEMO_GUEST = '+19705550101';

export interface ChatArguments {
  readonly phone: string;
  readonly lang: Language | null;
  /** Null for the clock of this machine. */
  readonly now: Instant | null;
}

/** @throws Error that says which argument, what came and what is allowed. */
export function readChatArguments(args: readonly string[]): ChatArguments | 'help' {
  const { values } = parseArgs({
    args: [...args],
    options: {
      as: { type: 'string', default: DEMO_GUEST },
      lang: { type: 'string' },
      now: { type: 'string' },
      help: { type: 'boolean' },
    },
  });
  if (values.help === true) return 'help';
  return { phone: chatPhone(values.as), lang: chatLanguage(values.lang), now: chatTime(values.now) };
}

/** @throws Error when it is no phone number. */
export function chatPhone(written: string): string {
  const phone = phoneOf(written);
  if (phone === null) throw new Error(`"${written}" is no phone number; write it as +1 970 555 0101`);
  return phone;
}

function chatLanguage(written: string | undefined): Language | null {
  if (written === undefined) return null;
  const lang = LANGUAGES.find((each) => each === written);
  if (lang === undefined) throw new Error(`--lang ${written}: allowed are ${LANGUAGES.join(' and ')}`);
  return lang;
}

function chatTime(written: string | undefined): Instant | null {
  if (written === undefined) return null;
  try {
    return instantOf(written);
  } catch (cause) {
    throw new Error(`--now ${written}: write a time with its zone, as 2026-11-25T02:10:00-07:00`, { cause });
  }
}
