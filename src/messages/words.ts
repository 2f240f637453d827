/** Small pieces of sentences that every stage's messages share. */
import type { Example } from "../diagnostics.js";

export function quoted(titles: readonly string[]): string {
  return listed(titles.map((title) => `“${title}”`));
}

/** "a", "a and b", "a, b and c". */
export function listed(parts: readonly string[], word = "and"): string {
  return parts.length < 2 ? (parts[0] ?? "") : `${parts.slice(0, -1).join(", ")} ${word} ${parts.at(-1)!}`;
}

/** "clarity muddy, cover grass and docks, water-temp 61 °F" */
export function sayExample(example: Example): string {
  const parts = Object.entries(example).map(([name, value]) =>
    typeof value === "string" ? `${name} ${value}` : `${name} ${value.length === 0 ? "none" : listed(value)}`,
  );
  return parts.length === 0 ? "whatever the conditions" : parts.join(", ");
}

/** Options by place, as written in the book. */
export type Texts = readonly (readonly string[])[];

/** "colorado, then indiana or willow" */
export function sayList(places: Texts): string {
  return places.map((place) => place.join(" or ")).join(", then ");
}

/** An exact fraction from 0 to 1. */
export interface Share {
  readonly n: bigint;
  readonly d: bigint;
}

/**
 * "12 %", "6.3 %", "99.4 %": whole from 10 to 99, to a tenth near the ends, since there a tenth tells. What is little is "less than 0.1 %",
 * what is not all "more than 99.9 %"; "0 %" and "100 %" are none and all.
 */
export function sayPercent({ n, d }: Share): string {
  if (n !== 0n && n * 1000n < d) return "less than 0.1 %";
  if (n !== d && n * 1000n > d * 999n) return "more than 99.9 %";
  const isMiddling = n * 10n >= d && n * 100n <= d * 99n;
  // Numerator and denominator may be longer than any floating-point number.
  const rounded = (parts: bigint): bigint => (2n * n * parts + d) / (2n * d);
  return `${isMiddling ? rounded(100n) : Number(rounded(1000n)) / 10} %`;
}

/** How much of everything that may happen: exact fractions stand in the data, here a person reads. */
export function sayShare(share: Share): string {
  if (share.n === 0n) return "only at single values, too thin to have a share of all conditions";
  if (share.n === share.d) return "under all conditions";
  return `in ${sayPercent(share)} of all conditions`;
}

/** A place in a pattern's text for a title nobody has used. */
export function firstUnused(base: string, taken: ReadonlySet<string>): string {
  if (!taken.has(base)) return base;
  for (let n = 2; ; n++) if (!taken.has(`${base} (${n})`)) return `${base} (${n})`;
}
