/**
 * Which of many hulls hold a point, meet another hull, or leave a point to few others.
 *
 *     meeting   the ends of each hull, column by column: most are told apart by them alone
 *     a point   per variable and position one bit per hull:     c0 = 3   1 0 1 1 0 …
 *                                                               c1 = 7   1 1 0 1 0 …   ──and──▶   1 0 0 1 0 …   hulls 0 and 3
 */
import { count, type Span } from "../model/span.js";
import { meet, type Hull } from "./neighbours.js";

export interface HullIndex {
  /** Places of the hulls that hold the point, rising. */
  at(position: (variable: number) => number): readonly number[];
  /** Places of the hulls that meet a hull, rising. */
  meeting(hull: Hull | "nowhere"): readonly number[];
  /** A point of the box, variable by variable in the given order, each time where the fewest hulls are left. */
  lonely(box: readonly (readonly [variable: number, span: Span])[]): ReadonlyMap<number, number>;
}

type Hulls = readonly (Hull | "nowhere")[];

export function hullIndex(hulls: Hulls, size: (variable: number) => number): HullIndex {
  const variables = [...new Set(hulls.flatMap((hull) => (hull === "nowhere" ? [] : [...hull.keys()])))];
  let rows: Pick<HullIndex, "at" | "lonely"> | undefined;
  const made = (): Pick<HullIndex, "at" | "lonely"> => (rows ??= bitRows(hulls, variables, size));
  return { ...hullEnds(hulls, variables), at: (position) => made().at(position), lonely: (box) => made().lonely(box) };
}

function hullEnds(hulls: Hulls, variables: readonly number[]): Pick<HullIndex, "meeting"> {
  const columns = new Map(variables.map((variable) => [variable, { low: new Int32Array(hulls.length), high: new Int32Array(hulls.length).fill(2 ** 31 - 1) }]));
  const anywhere: number[] = [];
  const hasHole = new Uint8Array(hulls.length);
  hulls.forEach((hull, at) => {
    if (hull === "nowhere") return;
    anywhere.push(at);
    for (const [variable, span] of hull) {
      const { low, high } = columns.get(variable)!;
      [low[at], high[at]] = [span[0]!, span.at(-1)!];
      if (span.length > 2) hasHole[at] = 1;
    }
  });
  const left = new Int32Array(hulls.length);
  return {
    meeting(hull) {
      if (hull === "nowhere") return [];
      left.set(anywhere);
      let count = anywhere.length;
      let hole = false;
      for (const [variable, span] of hull) {
        const column = columns.get(variable);
        if (!column) continue;
        const { low, high } = column;
        const [from, to] = [span[0]!, span.at(-1)!];
        if (span.length > 2) hole = true;
        let kept = 0;
        for (let i = 0; i < count; i++) {
          const at = left[i]!;
          if (low[at]! <= to && high[at]! >= from) left[kept++] = at;
        }
        count = kept;
      }
      const found: number[] = [];
      for (let i = 0; i < count; i++) {
        const at = left[i]!;
        // Where no span has a hole, the ends have told all.
        if (!(hole || hasHole[at]) || meet(hulls[at]!, hull)) found.push(at);
      }
      return found;
    },
  };
}

function bitRows(hulls: Hulls, variables: readonly number[], size: (variable: number) => number): Pick<HullIndex, "at" | "lonely"> {
  const words = (hulls.length + 31) >> 5;
  const somewhere = new Uint32Array(words);
  hulls.forEach((hull, at) => hull !== "nowhere" && (somewhere[at >> 5]! |= 1 << (at & 31)));
  const rows = new Map(variables.map((variable) => {
    const bits = new Uint32Array(size(variable) * words);
    hulls.forEach((hull, at) => {
      if (hull === "nowhere") return;
      const span = hull.get(variable) ?? [0, size(variable) - 1];
      for (let i = 0; i < span.length; i += 2) for (let position = span[i]!; position <= span[i + 1]!; position++) bits[position * words + (at >> 5)]! |= 1 << (at & 31);
    });
    return [variable, bits] as const;
  }));
  return {
    at(position) {
      const left = Uint32Array.from(somewhere);
      for (const [variable, bits] of rows) {
        const offset = position(variable) * words;
        for (let word = 0; word < words; word++) left[word]! &= bits[offset + word]!;
      }
      const found: number[] = [];
      for (let word = 0; word < words; word++)
        for (let rest = left[word]!; rest !== 0; rest &= rest - 1) found.push((word << 5) + (31 - Math.clz32(rest & -rest)));
      return found;
    },
    lonely(box) {
      const left = Uint32Array.from(somewhere);
      return new Map(box.map(([variable, span]) => {
        const bits = rows.get(variable);
        if (!bits) return [variable, span[0]!];
        let best = span[0]!;
        let fewest = Infinity;
        for (const at of someOf(span)) {
          let hulls = 0;
          for (let word = 0; word < words; word++) hulls += ones(left[word]! & bits[at * words + word]!);
          if (hulls < fewest) [best, fewest] = [at, hulls];
        }
        for (let word = 0; word < words; word++) left[word]! &= bits[best * words + word]!;
        return [variable, best];
      }));
    },
  };
}

/** Positions of one variable that `lonely` looks at. */
const LOOKS = 24;

function* someOf(span: Span): Generator<number> {
  const step = Math.max(1, count(span) / LOOKS);
  for (let n = step / 2; n < count(span); n += step) yield nth(span, Math.floor(n));
}

/** The n-th position of a span, from 0. */
export function nth(span: Span, n: number): number {
  for (let i = 0; i < span.length; i += 2) {
    const length = span[i + 1]! - span[i]! + 1;
    if (n < length) return span[i]! + n;
    n -= length;
  }
  return span[0]!;
}

/** How many bits are set (Hacker's Delight, section 5-1). */
function ones(word: number): number {
  word -= (word >>> 1) & 0x55555555;
  word = (word & 0x33333333) + ((word >>> 2) & 0x33333333);
  return Math.imul((word + (word >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
