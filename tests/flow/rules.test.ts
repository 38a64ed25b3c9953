import { expect, test } from 'vitest';
import { checkFlows } from '../../src/flow/check.ts';
import { LONGEST, STRANGER } from '../../src/flow/profiles.ts';
import { lampBook } from './lamp-book.ts';
import type { Change } from './lamp-book.ts';

const GUESTS = { 'a guest of whom all is known': LONGEST, 'a stranger': STRANGER };

/** The rules that report something, each once. */
function reporting(...changes: readonly Change[]): string[] {
  const { findings } = checkFlows(lampBook(...changes), GUESTS);
  return [...new Set(findings.map((finding) => finding.rule))].toSorted();
}

const lamp = (from: string, to: string): Change => ({ file: 'lamp.yaml', from, to });
const person = (from: string, to: string): Change => ({ file: 'person.yaml', from, to });
const danger = (from: string, to: string): Change => ({ file: 'danger.yaml', from, to });
const phrases = (from: string, to: string): Change => ({ file: 'phrases.yaml', from, to });

const CALLOUT_OF_EMERGENCY = '  emergency:\n    says: emergency\n    do: [{ callout: danger }]\n';
const GOOD_EN = '"Good. Text me any time."';
const GOOD_ES = '"Bien. Escriba cuando guste."';
const HARD =
  '"Notwithstanding intermittent electrical irregularities, comprehensive verification procedures necessitate immediate administrative documentation."';

const BROKEN: readonly (readonly [string, readonly string[], readonly Change[]])[] = [
  [
    'an emergency without a callout',
    ['danger ask', 'danger now', 'danger questions'],
    [danger(CALLOUT_OF_EMERGENCY, '  emergency:\n    says: emergency\n')],
  ],
  [
    'a worrying answer that is waved away',
    ['danger ask'],
    [lamp('    hears: yes-no\n', '    hears: yes-no\n    worrying: good\n')],
  ],
  [
    'an "I do not know" to the danger questions that leads away',
    ['danger questions'],
    [danger('go: { "no": resume }', 'go: { "no": resume, unsure: opening.arrived }')],
  ],
  [
    'an answer to the danger questions that reaches the emergency’s words without its callout',
    ['danger ask', 'danger questions'],
    [danger('  not-no:\n    says: emergency\n    do: [{ callout: danger }]\n', '  not-no:\n    says: emergency\n')],
  ],
  ['a hand-over that tells no human', ['misses', 'person'], [person('    do: [{ callout: tonight }]\n', '')]],
  ['a phrase that is blank', ['reply'], [phrases('You are welcome. Text me any time.', ' ')]],
  [
    'a number typed into a sentence',
    ['numbers'],
    [lamp(GOOD_EN, '"Good. Wait 7 hours."'), lamp(GOOD_ES, '"Bien. Espere 7 horas."')],
  ],
  ['an amount spelled out', ['numbers'], [lamp(GOOD_EN, '"Good. Wait three hours."')]],
  [
    'a number that is nobody’s order and no limit',
    ['numbers'],
    [
      phrases('You are welcome. Text me any time.', 'You have 77.'),
      phrases('De nada. Escriba cuando quiera.', 'Son 77.'),
    ],
  ],
  ['a fact that one language leaves out', ['languages'], [lamp('la bola en {setting}', 'la bola bien')]],
  [
    'a mask told the setting of a cannula',
    ['settings'],
    [
      lamp('Set the ball to {setting}.', 'Set the mask to {setting}.'),
      lamp('Ponga la bola en {setting}.', 'Ponga la mascarilla en {setting}.'),
    ],
  ],
  [
    'the highest setting told as the one to use',
    ['settings'],
    [
      lamp('Set the ball to {setting}.', 'Set the ball to {maximum}.'),
      lamp('Ponga la bola en {setting}.', 'Ponga la bola en {maximum}.'),
    ],
  ],
  ['a step of three text parts', ['length'], [lamp(GOOD_EN, `"${'Go to bed now. '.repeat(24)}"`)]],
  [
    'an emergency reply of four text parts',
    ['emergency'],
    [{ file: 'emergency.yaml', from: 'Phone on speaker, ', to: `${'Stay with them. '.repeat(24)}Phone on speaker, ` }],
  ],
  [
    'an emergency whose first sentence is not the number',
    ['danger ask', 'danger now', 'danger questions', 'emergency'],
    [
      {
        file: 'emergency.yaml',
        from: '"Call {emergency-number} now, by voice call."',
        to: '"Keep calm. Then call {emergency-number}."',
      },
    ],
  ],
  ['a guest told to open the unit', ['forbidden'], [lamp(GOOD_EN, '"Good. Now open the unit."')]],
  ['a guest told to open it in the other language', ['forbidden'], [lamp(GOOD_ES, '"Bien. Abra el equipo."')]],
  ['a pause of oxygen that is not marked', ['pause'], [lamp(GOOD_EN, '"Good. Now unplug it."')]],
  [
    'a marked pause that does not say what to do when short of breath',
    ['pause'],
    [lamp('    end: settled\n', '    end: settled\n    pauses-oxygen: true\n')],
  ],
  ['a step that is hard to read', ['reading'], [lamp(GOOD_EN, HARD)]],
  [
    'a step that nobody can come to',
    ['reach'],
    [lamp('  good:\n', '  lonely:\n    tell: { en: "Good night.", es: "Hasta luego." }\n    end: settled\n  good:\n')],
  ],
  ['answers that lead in a circle', ['bounds'], [lamp('      "no": person.hand-over\n', '      "no": is-it-on\n')]],
  [
    'more questions than a guest may be asked',
    ['bounds'],
    [
      lamp('matter: lamp\n', 'matter: lamp\nguest-messages: 2\n'),
      { file: 'person.yaml', from: 'matter: wants a person\n', to: 'matter: wants a person\nguest-messages: 2\n' },
      { file: 'opening.yaml', from: 'matter: not sorted yet\n', to: 'matter: not sorted yet\nguest-messages: 2\n' },
    ],
  ],
];

test('the small book itself has nothing to report', () => {
  expect(checkFlows(lampBook(), GUESTS).findings).toEqual([]);
});

test.for(BROKEN)('%s is reported by %j and no other rule', ([, rules, changes]) => {
  expect(reporting(...changes)).toEqual(rules);
});

test('a finding names the step and the shortest way there in a guest’s words', () => {
  const { findings } = checkFlows(
    lampBook(
      lamp(
        '    hears: yes-no\n    go:\n      "yes": good\n      "no": person.hand-over\n',
        '    hears: yes-no\n    worrying: good\n    go:\n      "yes": good\n      "no": person.hand-over\n',
      ),
    ),
    { guest: LONGEST },
  );
  expect(findings).toEqual([
    expect.objectContaining({ rule: 'danger ask', where: 'lamp.good', path: ['(no-power)', 'no', '(worrying)'] }),
  ]);
});

test('a sentence that forbids a thing does not recommend it', () => {
  expect(
    reporting(lamp(GOOD_EN, '"Good. Do not open the unit."'), lamp(GOOD_ES, '"Bien. No abra el equipo."')),
  ).toEqual([]);
});
