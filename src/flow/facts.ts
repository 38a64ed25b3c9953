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
  readonly setting: { readonly fromLpm: number; readonly toLpm: number } | null;
  readonly maximumFlowRateLpm: number | null;
  readonly unitTag: string | null;
  readonly fragile: boolean;
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
    maximumFlowRateLpm: null,
    unitTag: null,
    fragile: false,
    cylinder: false,
    night: true,
  };
}
