import { assert, boolean, integer, property, string } from 'fast-check';
import { describe, expect, test } from 'vitest';
import { textParts } from '../../src/care/text-parts.ts';
import { speakBrief, writeBrief } from '../../src/desk/callout/brief.ts';
import type { BriefGuest, BriefInput } from '../../src/desk/callout/brief.ts';
import { aloud } from '../../src/flow/aloud.ts';
import { secondsToSay } from '../../src/flow/speech-time.ts';
import type { Property, Stay } from '../../src/desk/property.ts';
import type { Entry } from '../../src/desk/records.ts';
import { NIGHT } from './night-desk.ts';

const LODGE: Property = {
  id: 1,
  name: 'Marlstone Lodge',
  streetAddress: '14 Marlstone Way',
  elevationM: 2900,
  zone: 'America/Denver',
  emergencyNumber: '911',
  dispatchNumber: '+19705550180',
  frontDeskPhone: '+19705550181',
  entrance: 'Front doors lock at 23:00; ring the night bell on the left, someone is at the desk.',
  textToEmergency: false,
};

function guest(phone: string, stay: Partial<Stay> = {}, textsBlocked = false): BriefGuest {
  const unit = {
    id: 1,
    tag: 'NB-01',
    model: { id: 1, name: 'unit', maximumFlowRateLpm: 10, ratedElevationM: null, powerDrawW: null, bottleMl: null },
  };
  const usual: Stay = {
    rentalId: 1,
    guestName: 'Perrin Aldwick',
    property: LODGE,
    room: '204',
    unit,
    firstDay: '2026-11-24',
    lastDay: '2026-11-28',
    people: 1,
    fragile: false,
    ageGroup: 'adult',
    order: null,
    cylinder: false,
    oxygenAtHome: false,
  };
  return { conversation: { phone, room: null }, stay: { ...usual, ...stay }, textsBlocked };
}

let entries = 0;
function said(words: string, step: string | null = null, heard: object = { danger: 'none', answer: null }): Entry {
  entries += 1;
  return { id: entries, conversationId: 1, at: NIGHT, who: 'guest', words, heard, step, media: [], messageId: null };
}

function brief(changes: Partial<BriefInput> = {}): string {
  const callout = { matter: 'no power', urgency: 'tonight' } as const;
  return writeBrief({ callout, guests: [guest('+19705550101')], property: LODGE, entries: [], ...changes });
}

describe('a brief', () => {
  test('says what, who, where with entrance and unit, what was tried, and the last words', () => {
    const tried = [
      said('it wont start'),
      said('2', 'power.listen-at-the-switch', { answer: 'continuous-tone' }),
      said('dont know', 'power.other-outlet', { answer: 'unsure' }),
      said('still the tone', 'power.other-outlet', { answer: 'continuous-tone' }),
    ];
    expect(brief({ entries: tried, property: { ...LODGE, entrance: 'Night bell on the left.' } })).toBe(
      'Tonight: no power. Perrin Aldwick, (970) 555-0101. Marlstone Lodge, 204, unit NB-01. Night bell on the left. ' +
        'Tried: listen at the switch: continuous tone; other outlet: continuous tone. Said: "still the tone".',
    );
  });

  test('is cut behind a word', () => {
    const property = {
      ...LODGE,
      entrance: 'No desk at night. Outer stairs on the creek side, second door, code from us.',
    };
    const guests: BriefInput['guests'] = [
      guest('+19705550101', { guestName: 'Perrin Featherstonehaugh-Wrotham the Third' }),
    ];
    const written = brief({ guests, property, entries: [said('word '.repeat(30))] });
    expect(written).toMatch(/Outer stairs on the creek\.\.\. Said: "word [word ]*word\.\.\."/);
  });

  test('begins with CALL where texts are blocked', () => {
    expect(brief({ guests: [guest('+19705550101', {}, true)] })).toMatch(/^CALL, TEXTS BLOCKED\. Tonight/);
  });

  test('short of room loses what was tried first, then the entrance, never who, where and the dispatch centre', () => {
    const long = brief({
      callout: { matter: 'severe altitude illness, hard to wake', urgency: 'danger' },
      guests: [guest('+19705550101', { guestName: 'Maximiliana Featherstonehaugh-Wrotham', fragile: true })],
      entries: [said('x'.repeat(300), 'power.other-outlet', { answer: 'silence', danger: 'now' })],
    });
    expect(long).toMatch(
      /Featherstonehaugh-Wrotham.*fragile.*Marlstone Lodge, 204, unit NB-01.*Dispatch \(970\) 555-0180/,
    );
    expect(long).not.toContain('Tried');
  });

  test('of several rooms lists them, fragile guests first, with how to reach each', () => {
    const guests: BriefInput['guests'] = [
      guest('+19705550101'),
      guest('+19705550106', { room: '118', fragile: true }),
      guest('+19705550110', { room: '301' }, true),
    ];
    expect(brief({ guests })).toContain(
      'Marlstone Lodge, 3 rooms: 118 (fragile, (970) 555-0106); 204 ((970) 555-0101); 301 (CALL, (970) 555-0110).',
    );
    const many = Array.from({ length: 14 }, (_, index) =>
      guest('+19705550111', { rentalId: index, room: `4${index}` }),
    );
    expect(brief({ guests: [guest('+19705550101'), ...many] })).toMatch(/15 rooms: 204; 40; 41; .*413\./);
  });

  test.for([
    ['it’s “blue” — help', `Said: "it's "blue" - help"`],
    ['🔥🔥 está mal', 'Said: "esta mal"'],
    ['لا يتنفس', 'Said: "(not in Latin letters)"'],
  ] as const)('keeps to the basic alphabet: "%s"', ([words, kept]) => {
    const written = brief({ entries: [said(words)] });
    expect(written).toContain(kept);
    expect(textParts(written).alphabet).toBe('gsm-7');
  });

  test('is said on the phone without numbers at first, and with them among the details', () => {
    const entries = [said('no lights at all', 'power.listen', { danger: 'none', answer: 'silence' })];
    const callout = { matter: 'no power', urgency: 'danger' } as const;
    const input: BriefInput = { callout, guests: [guest('+19705550101', { fragile: true })], property: LODGE, entries };
    expect(speakBrief(input, 20)).toEqual({
      atOnce: 'DANGER: no power. Perrin Aldwick, fragile. Marlstone Lodge, 204, unit NB-01.',
      details: expect.stringMatching(
        /^Front doors lock.*Said: "no lights at all"\. Dispatch \(970\) 555-0180\./,
      ) as string,
    });
  });

  test('takes a voice no longer than it may, whatever was said and the places are called', () => {
    const word = string({ unit: 'grapheme', maxLength: 90 });
    assert(
      property(word, word, word, integer({ min: 1, max: 12 }), (words, name, entrance, rooms) => {
        const [first, ...others] = Array.from({ length: rooms }, (_, index) =>
          guest('+19705550101', { rentalId: index, guestName: name, room: `Room ${index} west` }),
        );
        const { atOnce, details } = speakBrief(
          {
            callout: { matter: 'no power', urgency: 'danger' },
            guests: [first ?? guest('+19705550101'), ...others],
            property: { ...LODGE, entrance },
            entries: [said(words, 'power.other-outlet', { answer: 'silence' })],
          },
          14,
        );
        for (const words of [atOnce, details]) expect(secondsToSay(aloud(words), 'en')).toBeLessThanOrEqual(14);
      }),
    );
  });

  test('has at most two text parts with the words around it, whatever the guest wrote and the places are called', () => {
    const word = string({ unit: 'grapheme', maxLength: 90 });
    assert(
      property(word, word, word, boolean(), integer({ min: 1, max: 12 }), (words, name, entrance, danger, rooms) => {
        const [first, ...others] = Array.from({ length: rooms }, (_, index) =>
          guest('+19705550101', { rentalId: index, guestName: name, room: `Room ${index} west`.slice(0, 20) }),
        );
        const written = brief({
          callout: { matter: 'no power', urgency: danger ? 'danger' : 'tonight' },
          guests: [first ?? guest('+19705550101'), ...others],
          property: { ...LODGE, entrance },
          entries: [said(words, 'power.other-outlet', { answer: 'silence' })],
        });
        const sent = `Callout 999 is yours. ${written} DONE 999 + note closes it.`;
        expect(textParts(sent).parts).toBeLessThanOrEqual(2);
        expect(textParts(`${written} Reply TAKE 9999 or PASS 9999.`).parts).toBeLessThanOrEqual(2);
      }),
    );
  });
});
