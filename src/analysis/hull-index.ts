/**
 * Which of many hulls hold a point, meet another hull, or leave a point to few others.
 *
 *     hull 0   ··████··        Per variable and stretch of positions one bit per hull: which have begun by its end, and which have not
 *     hull 1   █████···        ended before it. `and`ed over all variables few are left, and those are looked at one by one.
 *     begun    10 11 11 …
 */
import { count, holds, type Span } from "../model/span.js";
import { meet, type Hull } from "./neighbours.js";

export interface HullIndex {
  /** Places of the hulls that hold the point, rising. */
  at(position: (variable: number) => number): readonly number[];
  /** Places of the hulls that meet a hull, rising. */
  meeting(hull: Hull | "nowhere"): readonly number[];
  /** A point of the box, variable by variable in the given order, each time where the fewest hulls are left. */
  lonely(box: readonly (readonly [variable: number, span: Span])[]): ReadonlyMap<number, number>;
}

/** Stretches a variable is divided into, if it has so many positions. */
const STRETCHES = 256;

interface Column {
  stretch(position: number): number;
  /** Row by row: which hulls have begun by the end of a stretch, which have not ended before it, and which have a position in it. */
  readonly begun: Uint32Array;
  readonly lasting: Uint32Array;
  readonly there: Uint32Array;
}

export function hullIndex(hulls: readonly (Hull | "nowhere")[], size: (variable: number) => number): HullIndex {
  const words = (hulls.length + 31) >> 5;
  const somewhere = new Uint32Array(words);
  hulls.forEach((hull, at) => hull !== "nowhere" && setBit(somewhere, at));
  const columns = new Map(
    [...new Set(hulls.flatMap((hull) => (hull === "nowhere" ? [] : [...hull.keys()])))].map((variable) => [
      variable,
      columnOf(hulls, variable, size(variable)),
    ]),
  );
  const left = new Uint32Array(words);
  const keep = (bits: Uint32Array, row: number): void => {
    for (let word = 0; word < words; word++) left[word]! &= bits[row * words + word]!;
  };
  const whichOf = (sure: (hull: Hull) => boolean): number[] => {
    const found: number[] = [];
    for (let word = 0; word < words; word++)
      for (let rest = left[word]!; rest !== 0; rest &= rest - 1) {
        const at = (word << 5) + (31 - Math.clz32(rest & -rest));
        if (sure(hulls[at] as Hull)) found.push(at);
      }
    return found;
  };
  return {
    meeting(hull) {
      if (hull === "nowhere") return [];
      left.set(somewhere);
      for (const [variable, span] of hull) {
        const column = columns.get(variable);
        if (!column) continue;
        keep(column.begun, column.stretch(span.at(-1)!));
        keep(column.lasting, column.stretch(span[0]!));
      }
      return whichOf((other) => meet(other, hull));
    },
    at(position) {
      left.set(somewhere);
      for (const [variable, column] of columns) keep(column.there, column.stretch(position(variable)));
      return whichOf((hull) => {
        for (const [variable, span] of hull) if (!holds(span, position(variable))) return false;
        return true;
      });
    },
    lonely(box) {
      left.set(somewhere);
      return new Map(
        box.map(([variable, span]) => {
          const column = columns.get(variable);
          if (!column) return [variable, span[0]!];
          let best = span[0]!;
          let fewest = Infinity;
          for (const at of someOf(span)) {
            const row = column.stretch(at) * words;
            let hulls = 0;
            for (let word = 0; word < words; word++) hulls += ones(left[word]! & column.there[row + word]!);
            if (hulls < fewest) [best, fewest] = [at, hulls];
          }
          keep(column.there, column.stretch(best));
          return [variable, best];
        }),
      );
    },
  };
}

function columnOf(hulls: readonly (Hull | "nowhere")[], variable: number, size: number): Column {
  const words = (hulls.length + 31) >> 5;
  const rows = Math.min(size, STRETCHES);
  const stretch = (position: number): number => Math.floor((position * rows) / size);
  const [begun, lasting, there] = [new Uint32Array(rows * words), new Uint32Array(rows * words), new Uint32Array(rows * words)];
  hulls.forEach((hull, at) => {
    if (hull === "nowhere") return;
    const span = hull.get(variable) ?? [0, size - 1];
    const set = (bits: Uint32Array, row: number): void => setBit(bits, row * words * 32 + at);
    set(begun, stretch(span[0]!));
    set(lasting, stretch(span.at(-1)!));
    for (let i = 0; i < span.length; i += 2) for (let row = stretch(span[i]!); row <= stretch(span[i + 1]!); row++) set(there, row);
  });
  for (let word = words; word < begun.length; word++) begun[word]! |= begun[word - words]!;
  for (let word = lasting.length - words - 1; word >= 0; word--) lasting[word]! |= lasting[word + words]!;
  return { stretch, begun, lasting, there };
}

function setBit(bits: Uint32Array, at: number): void {
  bits[at >> 5]! |= 1 << (at & 31);
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
