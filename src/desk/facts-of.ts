import { settingFor, timeOfDay } from '../care/setting.ts';
import { factsOfAStranger } from '../flow/facts.ts';
import type { Facts } from '../flow/facts.ts';
import { wallClock } from '../time/instant.ts';
import type { Instant } from '../time/instant.ts';
import type { Property, SettingSheet, Stay } from './property.ts';

/** Who the desk speaks for, and what is said where a property does not say it. */
export interface Outfit {
  readonly name: string;
  /** A number that reaches a person without the desk, as guests read it. */
  readonly directNumber: string;
  readonly emergencyNumber: string;
  /** The zone in which the outfit's own nights are told. */
  readonly zone: string;
}

/** What a turn may know of a guest: of the stay; of the property alone; or nothing. */
export function factsOf(
  outfit: Outfit,
  known: { readonly stay: Stay | null; readonly property: Property | null; readonly room: string | null },
  sheet: SettingSheet | null,
  now: Instant,
): Facts {
  const stranger = factsOfAStranger(outfit.name, outfit.directNumber, outfit.emergencyNumber);
  const property = known.stay?.property ?? known.property;
  if (property === null) return stranger;
  const { hour } = wallClock(now, property.zone);
  const when = timeOfDay(hour);
  const { stay } = known;
  // The sheet is for adults who may be told a usual setting: not for a child, not for someone who keeps carbon dioxide.
  const sheetFits = stay?.ageGroup === 'adult' && stay.order?.keepsCarbonDioxide !== true;
  const lines = { order: stay?.order?.lines ?? [], sheet: sheetFits ? (sheet?.lines ?? []) : [] };
  const maximumFlowRateLpm = stay?.unit.model.maximumFlowRateLpm ?? null;
  return {
    ...stranger,
    emergencyNumber: property.emergencyNumber,
    address: property.streetAddress,
    room: stay?.room ?? known.room,
    frontDesk: property.frontDeskPhone,
    textToEmergency: property.textToEmergency,
    setting: stay === null ? null : settingFor(lines, stay.people, when, maximumFlowRateLpm),
    maximumFlowRateLpm,
    unitTag: stay?.unit.tag ?? null,
    fragile: stay?.fragile ?? false,
    cylinder: stay?.cylinder ?? false,
    night: when === 'night',
  };
}
