/** The code of a number that opted out, which the carrier then blocks for this desk. */
export const OPTED_OUT = 21610;

/**
 * The carrier's error codes and whether trying the same text again can help. From general knowledge of the carrier's
 * published list, not read again while this was written: check a code there before building anything else on it.
 *
 * never  the same text to the same number fails again, so it is given up at once
 * later  it may go through later: the phone comes back, the carrier has room, the owner mends the account
 */
const CODES = new Map<number, readonly ['never' | 'later', string]>([
  [20003, ['later', 'the account’s name or token is refused']],
  [20429, ['later', 'too many requests at once']],
  [21211, ['never', 'the number is not valid']],
  [21214, ['never', 'the number cannot be reached']],
  [21217, ['never', 'the number does not look valid']],
  [21408, ['never', 'texts to this region are not allowed for the account']],
  [21602, ['never', 'the text is empty']],
  [21606, ['later', 'the desk number is not set up to send']],
  [OPTED_OUT, ['never', 'the guest opted out']],
  [21611, ['later', 'too many texts wait at the desk number']],
  [21612, ['never', 'this desk number cannot text that number']],
  [21614, ['never', 'the number is not a mobile']],
  [21617, ['never', 'the text is too long']],
  [21635, ['never', 'the number is a landline']],
  [30001, ['later', 'too many texts wait at the carrier']],
  [30002, ['later', 'the account is suspended']],
  [30003, ['later', 'the phone is switched off or out of reach']],
  [30004, ['never', 'the number is blocked']],
  [30005, ['never', 'the number is unknown or no longer in use']],
  [30006, ['never', 'a landline, or a network that cannot be reached']],
  [30007, ['never', 'filtered by the network: the same words would be again']],
  [30008, ['later', 'the network does not say why']],
  [30034, ['later', 'the desk number is not registered']],
]);

/** What a code means, and whether another try can help. A code not known here is worth another try. */
export function meaningOf(code: number): { readonly final: boolean; readonly reason: string | null } {
  const [when, reason] = CODES.get(code) ?? (['later', null] as const);
  return { final: when === 'never', reason };
}
