import { maskSettingFor, settingFor, timeOfDay } from '../../care/setting.ts';
import type { SettingSources } from '../../care/setting.ts';
import { factsOfAStranger } from '../../flow/facts.ts';
import type { Facts } from '../../flow/facts.ts';
import { wallClock } from '../../time/instant.ts';
import type { Instant } from '../../time/instant.ts';
import type { Property, SettingSheet, Stay } from '../property.ts';

/** Who the desk speaks for, and what is said where a property does not say it. */
export interface Outfit {
  readonly name: string;
  /** A number that reaches a person without the desk, as guests read it. */
  readonly directNumber: string;
  readonly emergencyNumber: string;
  /** The zone in which the outfit's own nights are told. */
  readonly zone: string;
}

/** Where a guest's settings may come from. */
export function settingSourcesOf({ order, ageGroup }: Stay, sheet: SettingSheet | null): SettingSources {
  // The sheet is for adults who may be told a usual setting: not for a child, not for someone who keeps carbon dioxide.
  const maySheet = ageGroup === 'adult' && order?.keepsCarbonDioxide !== true;
  return { order: order?.lines ?? [], sheet: maySheet ? (sheet?.lines ?? []) : [] };
}

/** The settings that may be told to a guest, from the order, or from the sheet where the order is silent. */
function settingsOf(
  stay: Stay | null,
  sheet: SettingSheet | null,
  when: 'day' | 'night',
): Pick<Facts, 'setting' | 'settingFromSheet' | 'settingForOne' | 'settingForTwo' | 'maskSetting'> {
  if (stay === null)
    return { setting: null, settingFromSheet: false, settingForOne: null, settingForTwo: null, maskSetting: null };
  const { order, unit, people } = stay;
  const keeps = order?.keepsCarbonDioxide === true;
  const sources = settingSourcesOf(stay, sheet);
  const settingOf = (count: number) => settingFor(sources, count, when, unit.model.maximumFlowRateLpm);
  return {
    setting: settingOf(people),
    settingFromSheet: !(order?.lines ?? []).some((line) => line.people === people),
    settingForOne: settingOf(1),
    settingForTwo: keeps || stay.ageGroup === 'child' ? null : settingOf(2),
    maskSetting:
      order?.mask === true && stay.ageGroup === 'adult'
        ? maskSettingFor(order.lines, unit.model.maximumFlowRateLpm)
        : null,
  };
}

/** What a turn may know of a guest: of the stay; of the property alone; or nothing. */
export function factsOf(
  outfit: Outfit,
  known: {
    readonly stay: Stay | null;
    readonly property: Property | null;
    readonly room: string | null;
    readonly knownOutlet?: string | null;
    /** How long a filled water bottle lasts there, hours. */
    readonly refillHours?: number | null;
  },
  sheet: SettingSheet | null,
  now: Instant,
): Facts {
  const stranger = factsOfAStranger(outfit.name, outfit.directNumber, outfit.emergencyNumber);
  const property = known.stay?.property ?? known.property;
  if (property === null) return stranger;
  const { hour } = wallClock(now, property.zone);
  const when = timeOfDay(hour);
  const { stay } = known;
  const maximumFlowRateLpm = stay?.unit.model.maximumFlowRateLpm ?? null;
  return {
    ...stranger,
    emergencyNumber: property.emergencyNumber,
    address: property.streetAddress,
    room: stay?.room ?? known.room,
    frontDesk: property.frontDeskPhone,
    textToEmergency: property.textToEmergency,
    ...settingsOf(stay, sheet, when),
    maximumFlowRateLpm,
    unitTag: stay?.unit.tag ?? null,
    people: stay?.people ?? null,
    knownOutlet: known.knownOutlet ?? null,
    refillHours: known.refillHours ?? null,
    fragile: stay?.fragile ?? false,
    child: stay?.ageGroup === 'child',
    keepsCarbonDioxide: stay?.order?.keepsCarbonDioxide ?? false,
    cylinder: stay?.cylinder ?? false,
    night: when === 'night',
  };
}
