/**
 * The carrier's error codes and whether trying the same text again can help. From general knowledge of the carrier's
 * published list, not read again while this was written: check a code there before building anything else on it.
 */
const FINAL_CODES: ReadonlyMap<number, string> = new Map([
  [21211, 'the number is not valid'],
  [21214, 'the number cannot be reached'],
  [21217, 'the number does not look valid'],
  [21408, 'texts to this region are not allowed for the account'],
  [21602, 'the text is empty'],
  [21610, 'the guest opted out'],
  [21612, 'this desk number cannot text that number'],
  [21614, 'the number is not a mobile'],
  [21617, 'the text is too long'],
  [21635, 'the number is a landline'],
  [30004, 'the number is blocked'],
  [30005, 'the number is unknown or no longer in use'],
  [30006, 'a landline, or a network that cannot be reached'],
  [30007, 'filtered by the network: the same words would be again'],
]);
// Among those worth another try: 20429 (too many requests), 30001 (queue overflow), 30002 (account suspended), 30003
// (phone switched off or out of reach), 30008 (unknown), and 21606 or 30034 (a desk number not set up), since the owner
// may mend these while the text waits.

/** What the carrier's code means when no further try can help; null when one can, as for codes not known here. */
export function finalReason(code: number): string | null {
  return FINAL_CODES.get(code) ?? null;
}
