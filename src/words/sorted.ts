/** The first place from `first` up to `last` that holds `value` or more; what is there rises. `last` where none does. */
export function firstAtLeast(rising: Int32Array | Uint32Array, value: number, first: number, last: number): number {
  let [low, high] = [first, last];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((rising[middle] ?? 0) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
