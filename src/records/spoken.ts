/** Whether an entry was said on the phone, by a caller or to them: its message is a turn of a call. */
export function isSpoken({ message_id: id }: { readonly message_id: string | null }): boolean {
  return id !== null && (id.startsWith('voice-') || id.startsWith('call-'));
}
