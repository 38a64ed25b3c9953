import { z } from 'zod';

/** What a scenario file may say: everything the desk knows of one rental outfit, with stays dated around a day. */

const name = z.string().trim().min(1, 'must not be empty');
const phone = z
  .string()
  .regex(/^\+[1-9]\d{6,14}$/, 'must be a phone in E.164 form: "+", country code and number, digits only, in quotes');
const time = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time of day as "HH:MM", in quotes');
const zone = z.string().refine(isZone, 'must be an IANA time zone such as America/Denver');

function isZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

const lines = z
  .array(
    z
      .strictObject({
        people: z.union([z.literal(1), z.literal(2)], 'must be 1 or 2'),
        when: z.enum(['day', 'night', 'any']).default('any'),
        fromLpm: z.number().positive(),
        toLpm: z.number().positive(),
      })
      .refine((line) => line.fromLpm <= line.toLpm, 'must not end (toLpm) below where it begins (fromLpm)'),
  )
  .min(1, 'must have at least one line');

const order = z.strictObject({
  orderedBy: name,
  lines,
  mask: z.boolean().default(false),
  keepsCarbonDioxide: z.boolean().default(false),
});

const stay = z
  .strictObject({
    guest: name,
    /** All phones whose texts are about this stay. */
    phones: z.array(phone).min(1, 'must have at least one phone'),
    property: name,
    room: name.max(20, 'must have at most 20 characters, as a dispatcher is told it'),
    /** The unit's tag. */
    unit: name,
    /** First and last day, counted from the day on which the scenario is loaded: -1 is yesterday. */
    fromDay: z.int(),
    toDay: z.int(),
    people: z.int().positive().default(1),
    fragile: z.boolean().default(false),
    ageGroup: z.enum(['adult', 'child']).default('adult'),
    order: order.nullable().default(null),
    cylinder: z.boolean().default(false),
    oxygenAtHome: z.boolean().default(false),
  })
  .refine((one) => one.fromDay <= one.toDay, 'must not end (toDay) before it begins (fromDay)');

export const SCENARIO = z.strictObject({
  about: z.string().optional(),
  modelSheets: z.array(
    z.strictObject({
      name,
      maximumFlowRateLpm: z.number().positive(),
      ratedElevationM: z.int().nullable().default(null),
      powerDrawW: z.int().positive().nullable().default(null),
    }),
  ),
  units: z.array(z.strictObject({ tag: name, modelSheet: name })),
  properties: z.array(
    z.strictObject({
      name,
      streetAddress: name.max(60, 'must have at most 60 characters, as a dispatcher is told it'),
      elevationM: z.int(),
      zone,
      emergencyNumber: z.string().regex(/^\d{3,5}$/, 'must be what a guest dials, digits only, in quotes'),
      dispatchNumber: phone.nullable().default(null),
      frontDeskPhone: phone.nullable().default(null),
      entrance: name.nullable().default(null),
      textToEmergency: z.boolean().default(false),
    }),
  ),
  people: z.array(z.strictObject({ name, phone, role: z.enum(['technician', 'owner']) })),
  roster: z.strictObject({
    zone,
    shifts: z.array(
      z.strictObject({
        /** The person's name. */
        person: name,
        /** Days on which the shift starts, ISO: 1 is Monday. */
        days: z.array(z.int().min(1).max(7)).min(1, 'must name at least one day, 1 (Monday) to 7'),
        from: time,
        to: time,
        position: z.int().positive(),
      }),
    ),
  }),
  settingSheet: z.strictObject({ signedBy: name, signedOn: z.iso.date(), lines }).nullable().default(null),
  stays: z.array(stay),
});

export type Scenario = z.infer<typeof SCENARIO>;
