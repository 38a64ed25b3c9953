const MARK = 'hidden:';

/** The name under which a caller is kept whose number is hidden: one for each call, since nothing tells two of them apart. */
export function hiddenNumber(callId: string): string {
  return `${MARK}${callId}`;
}

/** Whether a guest's phone is only such a name: nothing can be sent to it, and nobody can ring it. */
export function isHidden(phone: string): boolean {
  return phone.startsWith(MARK);
}
