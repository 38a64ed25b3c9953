import { SaxesParser } from 'saxes';
import { LAST_VERBS, VALUES, VERBS, WHILE_WAITING } from './twiml-rules.ts';

/** One verb of a document, with what stands in it. */
export interface Verb {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly holds: readonly Verb[];
}

/** A document that the provider would refuse, or with which a call would end in silence. */
export class BadDocument extends Error {
  constructor(problem: string, document: string) {
    super(`${problem}\n${document}`);
    this.name = 'BadDocument';
  }
}

interface Open {
  name: string;
  attributes: Record<string, string>;
  text: string;
  holds: Verb[];
}

function parsed(document: string): Verb {
  const root: Open = { name: '', attributes: {}, text: '', holds: [] };
  const stack: Open[] = [root];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw new BadDocument(`no well-formed XML: ${error.message}`, document);
  });
  parser.on('opentag', (tag) => {
    stack.push({ name: tag.name, attributes: { ...(tag.attributes as Record<string, string>) }, text: '', holds: [] });
  });
  parser.on('text', (text) => {
    const top = stack.at(-1);
    if (top !== undefined) top.text += text;
  });
  parser.on('closetag', () => {
    const done = stack.pop();
    if (done !== undefined) stack.at(-1)?.holds.push(done);
  });
  parser.write(document).close();
  const [response] = root.holds;
  if (response === undefined || root.holds.length > 1) throw new BadDocument('needs one root', document);
  return response;
}

function look(verb: Verb, document: string): void {
  const refuse = (problem: string): never => {
    throw new BadDocument(problem, document);
  };
  const rule = VERBS[verb.name] ?? refuse(`no such verb: ${verb.name}`);
  for (const [name, value] of Object.entries(verb.attributes)) {
    if (!rule.attributes.includes(name)) refuse(`${verb.name} has no attribute ${name}`);
    if (VALUES[name]?.test(value) === false) refuse(`${verb.name} ${name}="${value}" is not allowed`);
  }
  const text = verb.text.trim();
  if (rule.text === 'none' && text !== '') refuse(`${verb.name} holds no text`);
  if (rule.text === 'must' && text === '') refuse(`${verb.name} is empty`);
  for (const inner of verb.holds) {
    if (!rule.holds.includes(inner.name)) refuse(`${inner.name} may not stand in ${verb.name}`);
    look(inner, document);
  }
}

function lookAtOrder(verbs: readonly Verb[], document: string): void {
  for (const [index, verb] of verbs.entries()) {
    const last = index === verbs.length - 1;
    if (!last && LAST_VERBS.includes(verb.name)) {
      throw new BadDocument(`nothing after ${verb.name} is reached`, document);
    }
    const asks = verb.name === 'Gather' && verb.attributes['actionOnEmptyResult'] !== 'true';
    if (last && asks) throw new BadDocument('a timeout of Gather is handled by nothing: the call would end', document);
    if (last && verb.name === 'Record') {
      throw new BadDocument('silence at Record is handled by nothing: the call would end', document);
    }
    if (last && (verb.name === 'Say' || verb.name === 'Play' || verb.name === 'Pause')) {
      throw new BadDocument(`the document ends with ${verb.name}: the call would end without a word why`, document);
    }
    if (last && verb.name === 'Dial' && verb.attributes['action'] === undefined) {
      throw new BadDocument('a Dial that nobody answers is handled by nothing', document);
    }
    if (verb.name === 'Enqueue' && verb.attributes['action'] === undefined) {
      throw new BadDocument('an Enqueue without action: whoever leaves the queue is hung up on', document);
    }
  }
}

/**
 * Reads a voice document as the provider would, and refuses what it would refuse, and what would end a call in silence.
 *
 * @throws BadDocument that says what is wrong
 */
export function readVoiceDocument(document: string, place: 'call' | 'queue' = 'call'): readonly Verb[] {
  const response = parsed(document);
  if (response.name !== 'Response') throw new BadDocument(`the root is ${response.name}, not Response`, document);
  look(response, document);
  const verbs = response.holds;
  if (verbs.length === 0) throw new BadDocument('an empty document ends the call in silence', document);
  for (const { name } of verbs) {
    if (place === 'queue' && !WHILE_WAITING.includes(name)) {
      throw new BadDocument(`${name} may not stand in what is played to someone who waits`, document);
    }
    if (place === 'call' && name === 'Leave') throw new BadDocument('Leave outside a queue', document);
  }
  lookAtOrder(verbs, document);
  return verbs;
}
