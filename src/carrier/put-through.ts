/**
 * Whether two phones were put through to each other, by the carrier's word after a dial. From general knowledge of its
 * documents: `completed` and `answered` are calls that were joined; `no-answer`, `busy`, `failed` and `canceled` are not.
 */
export function wasPutThrough(dialCallStatus: string): boolean {
  return dialCallStatus === 'completed' || dialCallStatus === 'answered';
}
