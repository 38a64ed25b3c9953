/** Names a turn of a call that came in, among the messages and, with a guest's words, among the entries. */
export function turnId(callId: string, turn: number): string {
  return `voice-${callId}-${turn}`;
}

/** Names what was said in a turn, the `count`th time: an entry that was spoken, and costs no text. */
export function saidId(callId: string, turn: number, count: number): string {
  return `${turnId(callId, turn)}-said-${count}`;
}
