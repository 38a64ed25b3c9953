/** A linear congruential generator: not good randomness, but the same on every machine. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0;
    return state / 4_294_967_296;
  };
}

/** Puts a list into an order by chance (Fisher and Yates), in place. */
export function shuffle(order: number[], random: () => number): void {
  for (let at = order.length - 1; at > 0; at -= 1) {
    const other = Math.floor(random() * (at + 1));
    [order[at], order[other]] = [order[other] as number, order[at] as number];
  }
}
