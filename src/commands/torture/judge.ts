import type { CompanyLog } from './company-log.ts';
import type { Broken, Look } from './guarantees/broken.ts';
import { calloutsAreNotLost, calloutsAreNotSilent, dangerHasACallout } from './guarantees/callouts.ts';
import { nobodyIsToldTwice, nothingIsLeft, sendsAgree, sendsAreInOrder } from './guarantees/sends.ts';
import { textsAreInOrder, textsHaveOneEntry, textsHaveOneReply } from './guarantees/texts.ts';
import type { Seen } from './seen.ts';

/**
 * What is not as the desk promises, by what the phone company saw beside what the records hold. Pure.
 * @param directNumber the number that guests are given when nobody comes, as it is written in texts
 */
export function brokenIn(log: CompanyLog, seen: Seen, directNumber: string): readonly Broken[] {
  const looks: readonly Look[] = [
    textsHaveOneEntry,
    textsHaveOneReply,
    textsAreInOrder,
    dangerHasACallout,
    calloutsAreNotLost,
    calloutsAreNotSilent(directNumber),
    nobodyIsToldTwice,
    sendsAgree,
    sendsAreInOrder,
    nothingIsLeft,
  ];
  return looks.flatMap((look) => look(log, seen));
}
