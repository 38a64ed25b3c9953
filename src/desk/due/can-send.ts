import type { Surroundings } from '../surroundings.ts';

/** Whether a text would go out now: the records can be written, the last sends worked, and the carrier answers. */
export async function canSend(desk: Surroundings): Promise<boolean> {
  const now = desk.now();
  if (!desk.sends.seemsWell(now)) return false;
  try {
    await desk.records.transaction((tx) => tx.noteAlive(now));
  } catch (error) {
    desk.note('the records cannot be written', { error });
    return false;
  }
  return (await desk.carrier.reachable?.()) ?? true;
}
