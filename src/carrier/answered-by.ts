/**
 * Whether a machine picked up, by the carrier's word. From general knowledge of its documents: `human`, `unknown`, `fax`,
 * and words that begin with `machine`. Where it cannot tell, it counts as a person: a machine that hears a brief does less
 * harm than a person who is hung up on.
 */
export function isMachine(answeredBy: string | undefined): boolean {
  return answeredBy === 'fax' || answeredBy?.startsWith('machine') === true;
}
