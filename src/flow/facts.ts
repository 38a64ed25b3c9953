/** A flow rate or a range of it, L/min, read at the middle of the ball. */
export interface Setting {
  readonly fromLpm: number;
  readonly toLpm: number;
}

/** What a turn may know of the guest's rental and property. A value: the desk makes it from the records for each turn. */
export interface Facts {
  readonly outfit: string;
  /** The number that reaches a person without the desk, as a guest would dial it. */
  readonly directNumber: string;
  readonly emergencyNumber: string;
  /** Street address and room to tell the dispatcher; null when no single place is known. */
  readonly address: string | null;
  readonly room: string | null;
  readonly frontDesk: string | null;
  /** Whether the local centre takes texts. */
  readonly textToEmergency: boolean;
  /** The setting on the order (or the signed sheet) for now and for the people using the unit, L/min. */
  readonly setting: Setting | null;
  /** Whether the settings come from the owner's signed sheet, because the order is silent. */
  readonly settingFromSheet: boolean;
  /** The same if one person used the unit, and if two did; null where neither order nor sheet says it. */
  readonly settingForOne: Setting | null;
  readonly settingForTwo: Setting | null;
  /** The mask's, where the order names the mask and gives a setting that keeps its bag full. */
  readonly maskSetting: Setting | null;
  readonly maximumFlowRateLpm: number | null;
  readonly unitTag: string | null;
  readonly people: number | null;
  /** An outlet of the room that worked for guests before: a value of the answer kind `outlet-place`, or `other-wall`. */
  readonly knownOutlet: string | null;
  /** How long a filled water bottle lasts here, whole hours; null where the trade's hours of limits.yaml count. */
  readonly refillHours: number | null;
  readonly fragile: boolean;
  readonly child: boolean;
  /** Keeps carbon dioxide, as in COPD: never a Y, never told to raise anything. */
  readonly keepsCarbonDioxide: boolean;
  readonly cylinder: boolean;
  readonly night: boolean;
}

/** Facts of somebody the desk knows nothing about. */
export function factsOfAStranger(outfit: string, directNumber: string, emergencyNumber: string): Facts {
  return {
    outfit,
    directNumber,
    emergencyNumber,
    address: null,
    room: null,
    frontDesk: null,
    textToEmergency: false,
    setting: null,
    settingFromSheet: false,
    settingForOne: null,
    settingForTwo: null,
    maskSetting: null,
    maximumFlowRateLpm: null,
    unitTag: null,
    people: null,
    knownOutlet: null,
    refillHours: null,
    fragile: false,
    child: false,
    keepsCarbonDioxide: false,
    cylinder: false,
    night: true,
  };
}
