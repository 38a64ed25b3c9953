import { factsOfAStranger } from './facts.ts';
import type { Facts } from './facts.ts';

/** Kinds of guests that the walk goes through the flows as. Between them every branch of the flows is taken. */

export const STRANGER: Facts = factsOfAStranger('Longest Outfit Name That Is Used', '+1 (970) 555-0100', '911');

/** Everything known, in the longest values that the records allow: 60 characters of address, 20 of room. */
export const LONGEST: Facts = {
  ...STRANGER,
  address: '12345 North Upper Longmeadow Basin Road, Building C, Level 4'.padEnd(60, '.').slice(0, 60),
  room: 'Suite 1204, Bedroom B'.slice(0, 20),
  frontDesk: '+1 (970) 555-0181',
  textToEmergency: true,
  setting: { fromLpm: 3.5, toLpm: 4.5 },
  settingForOne: { fromLpm: 3.5, toLpm: 4.5 },
  settingForTwo: { fromLpm: 7.5, toLpm: 9.5 },
  maskSetting: { fromLpm: 10, toLpm: 10 },
  people: 1,
  maximumFlowRateLpm: 10,
  unitTag: 'NB-0123',
  refillHours: 13,
  // The longest to say.
  knownOutlet: 'bed-left',
};

export const PROFILES: Readonly<Record<string, Facts>> = {
  'a guest of whom all is known': LONGEST,
  'a stranger': STRANGER,
  'a fragile guest with a cylinder': { ...LONGEST, fragile: true, cylinder: true, frontDesk: null },
  'a guest without a setting': {
    ...LONGEST,
    setting: null,
    settingForOne: null,
    settingForTwo: null,
    maskSetting: null,
    night: false,
    textToEmergency: false,
    knownOutlet: null,
  },
  'a guest in a room of which nothing is known': { ...LONGEST, knownOutlet: null },
  'two people on one unit': { ...LONGEST, people: 2, setting: LONGEST.settingForTwo, settingFromSheet: true },
  'a child': { ...LONGEST, child: true, settingForTwo: null, maskSetting: null },
  'a guest who keeps carbon dioxide': { ...LONGEST, keepsCarbonDioxide: true, fragile: true, settingForTwo: null },
};
