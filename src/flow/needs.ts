import type { Step } from './document.ts';
import type { Facts } from './facts.ts';

/** Places in a wording that are filled in: `{setting}`, `{emergency-number}`, or a limit by its name. */
const PLACEHOLDER = /\{([a-z][a-z0-9-]*)\}/g;

export function placeholdersIn(words: string): readonly string[] {
  return [...words.matchAll(PLACEHOLDER)].map((match) => match[1] ?? '');
}

export function fillPlaceholders(words: string, valueOf: (name: string) => string): string {
  return words.replace(PLACEHOLDER, (_, name: string) => valueOf(name));
}

/** Facts that may be missing, by the placeholder that needs them. Sentences never make up for a missing one. */
const MAY_BE_MISSING = {
  setting: (facts: Facts) => facts.setting,
  'setting-for-one': (facts: Facts) => facts.settingForOne,
  'setting-for-two': (facts: Facts) => facts.settingForTwo,
  'mask-setting': (facts: Facts) => facts.maskSetting,
  maximum: (facts: Facts) => facts.maximumFlowRateLpm,
  'unit-tag': (facts: Facts) => facts.unitTag,
  'known-outlet': (facts: Facts) => facts.knownOutlet,
  'front-desk': (facts: Facts) => facts.frontDesk,
  address: (facts: Facts) => facts.address,
  room: (facts: Facts) => facts.room,
} as const;
export type Need = keyof typeof MAY_BE_MISSING;

function isNeed(name: string): name is Need {
  return name in MAY_BE_MISSING;
}

/** The facts without which a step cannot be said. */
export function needsOf(step: Step): readonly Need[] {
  const words = [step.tell, step.ask, step.spoken].flatMap((wording) =>
    wording === undefined ? [] : Object.values(wording),
  );
  return [...new Set(words.flatMap(placeholdersIn).filter(isNeed))];
}

export function areKnown(needs: readonly Need[], facts: Facts): boolean {
  return needs.every((need) => MAY_BE_MISSING[need](facts) !== null);
}
