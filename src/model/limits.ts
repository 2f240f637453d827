/** The limits at which a continuous measure is cut. */
import type { Fraction } from "fraction.js";

/** The first limit that is not below `value`; every value a book writes is a limit. */
export function indexOfLimit(limits: readonly Fraction[], value: Fraction): number {
  let [low, high] = [0, limits.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (limits[middle]!.lt(value)) low = middle + 1;
    else high = middle;
  }
  return low;
}
