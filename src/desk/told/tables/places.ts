import { USABLE_ML } from '../../../care/bottle-water.ts';
import { LOAD_W } from '../../../care/circuit.ts';
import { ELEVATION_M } from '../../../care/elevation.ts';
import { SETTING_LPM } from '../../../care/setting.ts';
import type { Range } from '../../../care/range.ts';
import { labelKey } from '../../../reading/label.ts';
import { emergencyNumber, number, oneOf, phone, text, yesOrNo, zone } from '../cell.ts';
import type { ModelEntry, PersonEntry, PropertyEntry, RoomEntry, UnitEntry } from '../entries.ts';
import { nameKey } from '../table-kind.ts';
import type { TableKind } from '../table-kind.ts';

/** A tube that a person can walk with; longer ones are not told apart from a slip of the pen. Own bounds, no source. */
const TUBING_M: Range = { from: 1, to: 60, unit: 'm', advice: 'if it is in feet, multiply by 0.3048' };

/** Names, and what people read out, in the length that a text holds beside the rest. */
const NAME = text(60);
const LABEL = text(20);
const WAY = text(200);

export const MODELS: TableKind<ModelEntry> = {
  name: 'models',
  about: 'model sheets: what a kind of unit can do',
  columns: {
    model: { about: 'the name of the model, as you call it', example: 'Ten-litre home unit', kind: NAME },
    highestSettingLpm: { about: 'its highest setting', example: '10', kind: number(SETTING_LPM) },
    ratedElevationM: {
      about: 'the elevation up to which its maker vouches for it',
      example: '3000',
      kind: number(ELEVATION_M, 'whole'),
      empty: null,
    },
    powerDrawW: { about: 'what it draws', example: '600', kind: number(LOAD_W, 'whole'), empty: null },
    bottleMl: {
      about: 'water between the two lines of its bottle',
      example: '300',
      kind: number(USABLE_ML, 'whole'),
      empty: null,
    },
    tubingM: { about: 'the longest tube its maker allows', example: '15', kind: number(TUBING_M), empty: null },
    alarms: {
      about: 'what its alarms sound and look like',
      example: 'long tone: no power; two beeps: flow too high',
      kind: text(300),
      empty: null,
    },
    lowPurityLight: {
      about: 'the light that says it gives too little oxygen',
      example: 'yellow, stays on',
      kind: text(120),
      empty: null,
    },
  },
  identity: ['model'],
  keyOf: ({ model }) => nameKey(model),
  called: ({ model }) => `model ${model}`,
};

export const PROPERTIES: TableKind<PropertyEntry> = {
  name: 'properties',
  about: 'hotels, condominiums and houses where units stand',
  columns: {
    property: { about: 'its name', example: 'Marlstone Lodge', kind: NAME },
    streetAddress: {
      about: 'the address as a dispatcher is told it',
      example: '14 Marlstone Way, Quillmere Basin',
      kind: text(60),
      joinedBy: ', ',
    },
    elevationM: { about: 'metres above sea level', example: '2900', kind: number(ELEVATION_M, 'whole') },
    zone: { about: 'its time zone', example: 'America/Denver', kind: zone },
    emergencyNumber: { about: 'what a guest dials in danger', example: '911', kind: emergencyNumber },
    dispatchPhone: {
      about: 'the ten-digit line of the dispatch centre, for those who are elsewhere',
      example: '(970) 555-0180',
      kind: phone,
      empty: null,
    },
    frontDeskPhone: { about: 'the front desk', example: '(970) 555-0181', kind: phone, empty: null },
    entrance: {
      about: 'how to get in at night',
      example: 'Ring the night bell on the left',
      kind: WAY,
      empty: null,
    },
    textToEmergency: {
      about: 'whether the local centre takes texts to the emergency number',
      example: 'no',
      kind: yesOrNo,
      empty: false,
    },
  },
  identity: ['property'],
  keyOf: ({ property }) => nameKey(property),
  called: ({ property }) => property,
};

export const ROOMS: TableKind<RoomEntry> = {
  name: 'rooms',
  about: 'rooms of properties; a rental may then name only one that is listed',
  columns: {
    property: { about: 'the name of the property', example: 'Marlstone Lodge', kind: NAME },
    room: { about: 'its label, as a dispatcher is told it', example: '204', kind: LABEL },
    phone: { about: 'the telephone in the room', example: '(970) 555-0182', kind: phone, empty: null },
    wayIn: { about: 'how to find it at night', example: 'Second floor, left of the stairs', kind: WAY, empty: null },
  },
  identity: ['property', 'room'],
  keyOf: ({ property, room }) => roomKeyOf(property, room),
  called: ({ property, room }) => `room ${room}, ${property}`,
};

export const roomKeyOf = (property: string, room: string): string => `${nameKey(property)} ${labelKey(room)}`;

export const UNITS: TableKind<UnitEntry> = {
  name: 'units',
  about: 'concentrators by the tag on their case',
  columns: {
    unit: { about: 'its tag', example: 'NB-01', kind: LABEL },
    model: { about: 'the name of its model', example: 'Ten-litre home unit', kind: NAME },
  },
  identity: ['unit'],
  keyOf: ({ unit }) => labelKey(unit),
  called: ({ unit }) => `unit ${unit}`,
};

export const PEOPLE: TableKind<PersonEntry> = {
  name: 'people',
  about: 'technicians and owners; who is on call when is said by npm run roster',
  columns: {
    name: { about: 'their name', example: 'Bram Tiddlecote', kind: NAME, joinedBy: ' ' },
    phone: { about: 'the phone that callouts go to', example: '(970) 555-0190', kind: phone },
    role: { about: 'what they are', example: 'technician', kind: oneOf('technician', 'owner'), empty: 'technician' },
  },
  identity: ['phone'],
  keyOf: ({ phone: own }) => own,
  called: ({ name }) => name,
};
