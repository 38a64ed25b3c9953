import { SaxesParser } from 'saxes';
import type { AfterWords, Sentence, SpokenToCaller } from '../desk/carrier.ts';
import { VOICES } from './call-twiml.ts';

interface Verb {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  words: string;
}

/** The verbs of a document in its order, those within others too. */
function verbsIn(twiml: string): readonly Verb[] {
  const verbs: Verb[] = [];
  const open: Verb[] = [];
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => {
    const verb = { name, attributes: attributes as Record<string, string>, words: '' };
    verbs.push(verb);
    open.push(verb);
  });
  parser.on('text', (text) => {
    const within = open.at(-1);
    if (within !== undefined) within.words += text;
  });
  parser.on('closetag', () => void open.pop());
  parser.write(twiml).close();
  return verbs;
}

function langOf({ attributes }: Verb): Sentence['lang'] {
  return attributes['language'] === VOICES.es ? 'es' : 'en';
}

function numberIn(address: string | undefined, name: string): number {
  const written = new URL(address ?? '').searchParams.get(name);
  if (written === null || !/^\d+$/.test(written)) throw new Error(`${address} names no ${name}`);
  return Number(written);
}

function afterIn(verbs: readonly Verb[]): AfterWords {
  const last = verbs.find(({ name }) => !['Response', 'Say', 'Pause'].includes(name));
  const { attributes = {}, words = '' } = last ?? {};
  const action = attributes['action'];
  switch (last?.name) {
    case 'Gather':
      return {
        do: 'listen',
        turn: numberIn(action, 'turn'),
        lang: langOf(last),
        hints: (attributes['hints'] ?? '').split(','),
        keys: attributes['numDigits'] === '1' ? 'one' : 'digits',
        patienceS: Number(attributes['timeout']),
      };
    case 'Enqueue':
      return { do: 'queue', turn: numberIn(action, 'turn'), queue: words.trim() };
    case 'Record':
      return { do: 'record', turn: numberIn(action, 'turn'), longestS: Number(attributes['maxLength']) };
    case 'Redirect': {
      const pause = verbs.find(({ name }) => name === 'Pause');
      const turn = numberIn(words.trim(), 'turn');
      return {
        do: 'wait',
        turn,
        count: numberIn(words.trim(), 'count'),
        pauseS: Number(pause?.attributes['length'] ?? 0),
      };
    }
    case 'Leave':
      return { do: 'leave-queue' };
    case 'Hangup':
      return { do: 'hang-up' };
    default:
      throw new Error(`a call goes on with ${last?.name ?? 'nothing'}: a caller would hear silence`);
  }
}

/**
 * What `callerTwiml` wrote, read back: what the carrier says to a caller, and what it does then.
 * @throws Error where the document is no XML, or leaves the caller in silence.
 */
export function spokenInTwiml(twiml: string): SpokenToCaller {
  const verbs = verbsIn(twiml);
  const sentences = verbs
    .filter(({ name }) => name === 'Say')
    .map((verb): Sentence => ({ lang: langOf(verb), words: verb.words }));
  return { sentences, after: afterIn(verbs) };
}
