import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { VERBS } from '../caller/twiml-rules.ts';

/**
 * The names of verbs and attributes that the tests' provider takes, against the types of the provider's own library
 * (npm package twilio, lib/twiml/VoiceResponse.d.ts, the version in package.json).
 */
const types = readFileSync(createRequire(import.meta.url).resolve('twilio/lib/twiml/VoiceResponse.d.ts'), 'utf8');

/** Attributes that the library's types name for a verb, in whichever place it may stand. */
function attributesOf(verb: string): ReadonlySet<string> {
  const bodies = [...types.matchAll(new RegExp(`interface ${verb}Attributes \\{([^}]*)\\}`, 'g'))];
  return new Set(
    bodies.flatMap((body) => [...(body[1] ?? '').matchAll(/^\s+(\w+)\?:/gm)].map((match) => match[1] ?? '')),
  );
}

const library = Object.keys(VERBS).filter((verb) => verb !== 'Response');

test.for(library.map((verb) => [verb] as const))(
  '%s is a verb or noun of the library, with these attributes',
  ([verb]) => {
    expect(types).toMatch(new RegExp(`class ${verb} extends TwiML`));
    const known = attributesOf(verb);
    expect((VERBS[verb]?.attributes ?? []).filter((name) => !known.has(name))).toEqual([]);
  },
);

test('what may stand in a verb has a method of its class in the library', () => {
  for (const verb of library) {
    const body = new RegExp(`class ${verb} extends TwiML \\{([\\s\\S]*?)\\n    \\}`).exec(types)?.[1] ?? '';
    for (const inner of VERBS[verb]?.holds ?? []) {
      expect(body, `${inner} in ${verb}`).toMatch(new RegExp(`\\b${inner.toLowerCase()}\\(`));
    }
  }
});
