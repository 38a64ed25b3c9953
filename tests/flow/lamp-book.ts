import { expect } from 'vitest';
import { FLOWS_DIRECTORY, readFlowFiles } from '../../src/flow/load.ts';
import { readBook } from '../../src/flow/read-book.ts';
import type { FlowFile } from '../../src/flow/read-book.ts';
import type { ReadFlowBook } from '../../src/flow/placed-book.ts';

/**
 * A small book with nothing wrong in it, for tests that break one thing. Its flows are its own, so that they stand while
 * the desk's are written anew; the short sentences, the emergency words and the limits are the desk's.
 */

const LAMP = `flow: lamp
about: Two questions about a lamp.
matter: lamp
opens-on:
  no-power: is-it-on
steps:
  is-it-on:
    ask:
      en: "Is the lamp on? Reply YES or NO."
      es: "¿La luz está prendida? Responda SÍ o NO."
    hears: yes-no
    go:
      "yes": good
      "no": set-it
      unsure: person.hand-over
  set-it:
    ask:
      en: "Set the ball to {setting}. Is the lamp on now?"
      es: "Ponga la bola en {setting}. ¿Ya está prendida la luz?"
    hears: yes-no
    go:
      "yes": good
      "no": person.hand-over
      unsure: person.hand-over
  good:
    tell:
      en: "Good. Text me any time."
      es: "Bien. Escriba cuando guste."
    end: settled
`;

const BOTTLE = `flow: bottle
about: One question about the bottle.
matter: bottle
opens-on:
  humidifier-empty: is-it-full
steps:
  is-it-full:
    ask:
      en: "Is the bottle full? Reply YES or NO."
      es: "¿La botella está llena? Responda SÍ o NO."
    hears: yes-no
    go:
      "yes": lamp.good
      "no": person.hand-over
      unsure: person.hand-over
`;

const PERSON = `flow: person
about: A human.
matter: wants a person
steps:
  hand-over:
    tell:
      en: "I am texting a person now. Feel worse? Call {emergency-number}."
      es: "Ya le escribo a una persona. ¿Se siente mal? Llame al {emergency-number}."
    do: [{ callout: tonight }]
    end: technician
`;

const REFILL = `flow: refill
about: News that the bottle was filled.
matter: water
steps:
  noted:
    tell:
      en: "Good, I have noted it."
      es: "Bien, ya lo noté."
    end: settled
`;

const CHECK_BACK = `flow: check-back
about: Some minutes after a technician was there.
matter: came back
steps:
  still-well:
    ask:
      en: "Is all still well? Reply YES or NO."
      es: "¿Todo sigue bien? Responda SÍ o NO."
    hears: yes-no
    end: settled
    go:
      "yes": well
      "no": person.hand-over
      unsure: person.hand-over
  well:
    tell:
      en: "Good. Rest well."
      es: "Bien. Que descanse."
    end: settled
`;

const menu = (name: string): string => `  ${name}:
    ask:
      en: "What is wrong?"
      es: "¿Qué pasa?"
    hears: matter
    choices: [no-power, talk-to-a-person]
    go:
      no-power: lamp.is-it-on
      talk-to-a-person: person.hand-over
      unsure: person.hand-over
`;
const OPENING = `flow: opening
about: A first text.
matter: not sorted yet
steps:
${['arrived', 'after-an-end', 'after-danger'].map(menu).join('')}`;

const questions = (name: string, silent: string): string => `  ${name}:
    ask:
      en: "Is anyone short of breath? Reply YES or NO."
      es: "¿A alguien le falta el aire? Responda SÍ o NO."
    hears: yes-no
    go: { "no": resume }
    otherwise: not-no
    silent: { after: PT3M, to: ${silent} }
`;
const called = (words: string): string => `    hears: called
    end: emergency
    go:
      "yes": has-called
      "no": has-called
      cannot: has-called
      all-well: stand-down
      unsure: has-called
      miss: has-called
${words}`;
const DANGER = `flow: danger
about: Danger.
matter: danger
steps:
${questions('questions', 'questions-again')}${questions('questions-again', 'not-no')}  emergency:
    says: emergency
    do: [{ callout: danger }]
${called('')}  not-no:
    says: emergency
    do: [{ callout: danger }]
${called('')}  has-called:
${called(`    ask:
      en: "Did you call {emergency-number}? Reply YES or NO."
      es: "¿Ya llamó al {emergency-number}? Responda SÍ o NO."
`)}  person-asked:
${called(`    ask:
      en: "I am trying to reach a person. First call {emergency-number}."
      es: "Ya busco a una persona. Primero llame al {emergency-number}."
`)}  stand-down:
    ask:
      en: "Is all well? Reply YES or NO."
      es: "¿Todo está bien? Responda SÍ o NO."
    hears: yes-no
    go: { "yes": opening.after-danger }
    otherwise: not-no
`;

const TABLE = `reviewed: { by: null, on: null }
low-reading-pct: 88
rows:
  - { to: person.hand-over, because: everybody }
`;

const OWN: Readonly<Record<string, string>> = {
  'bottle.yaml': BOTTLE,
  'check-back.yaml': CHECK_BACK,
  'danger.yaml': DANGER,
  'lamp.yaml': LAMP,
  'opening.yaml': OPENING,
  'person.yaml': PERSON,
  'refill.yaml': REFILL,
  'symptom-table.yaml': TABLE,
};
const SHARED = readFlowFiles(FLOWS_DIRECTORY).filter(({ file }) =>
  ['phrases.yaml', 'emergency.yaml', 'voice.yaml', 'limits.yaml'].includes(file),
);

/** One change to one file: every place where `from` stands is written as `to`. */
export interface Change {
  readonly file: string;
  readonly from: string;
  readonly to: string;
}

/** The files of the small book, with changes made to them. */
export function lampFiles(...changes: readonly Change[]): readonly FlowFile[] {
  const files = [...Object.entries(OWN).map(([file, text]) => ({ file, text })), ...SHARED];
  return files.map(({ file, text }) => ({
    file,
    text: changes
      .filter((change) => change.file === file)
      .reduce((before, { from, to }) => {
        expect(before, `${file} must hold what is to be changed`).toContain(from);
        return before.replaceAll(from, to);
      }, text),
  }));
}

/** The small book, with changes that leave it readable. */
export function lampBook(...changes: readonly Change[]): ReadFlowBook {
  const reading = readBook(lampFiles(...changes));
  return reading.ok ? reading.read : expect.fail(JSON.stringify(reading.problems));
}
