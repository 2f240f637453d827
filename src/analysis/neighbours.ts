/**
 * Which rules can meet: most patterns of a large book never speak at the same point, and a question about a few of them need not
 * look at the rest.
 *
 *     hull of a `when`: per variable, the positions outside which it surely fails         two hulls with disjoint spans on
 *         c0  ████░░░░     c1  ░░██░░                                                      one variable: the rules never meet
 *
 * A hull may be too wide, never too narrow.
 */
import { count, disjoint, intersect, union, type Span } from "../model/span.js";
import { FAILS, type Formula, type Formulas } from "./formula.js";
import type { PickRules, Rule } from "./rules.js";

/** By variable; undefined: unlimited. */
export type Hull = ReadonlyMap<number, Span>;

export function hullOf(store: Formulas, formula: Formula): Hull | "nowhere" {
  if (store.mask(formula) === FAILS) return "nowhere";
  const { kind, parts } = store.shape(formula);
  if (kind === "constant") return new Map();
  if (kind === "atom") {
    const [holds, , waits, noAdvice] = store.quarters(formula);
    return new Map([[store.support(formula)[0]!, union(union(holds, waits), noAdvice)]]);
  }
  const hulls = parts.map((part) => hullOf(store, part));
  const result = new Map<number, Span>();
  if (kind === "and") {
    for (const hull of hulls) {
      if (hull === "nowhere") return "nowhere";
      for (const [variable, span] of hull) result.set(variable, result.has(variable) ? intersect(result.get(variable)!, span) : span);
    }
    return result;
  }
  const there = hulls.filter((hull) => hull !== "nowhere");
  for (const [variable, span] of there[0] ?? [])
    if (there.every((hull) => hull.has(variable))) result.set(variable, there.slice(1).reduce((sum, hull) => union(sum, hull.get(variable)!), span));
  return result;
}

export function meet(a: Hull | "nowhere", b: Hull | "nowhere"): boolean {
  if (a === "nowhere" || b === "nowhere") return false;
  const [small, large] = a.size <= b.size ? [a, b] : [b, a];
  for (const [variable, span] of small) {
    const other = large.get(variable);
    if (other && disjoint(span, other)) return false;
  }
  return true;
}

/** Where both may hold. */
export function meeting(a: Hull | "nowhere", b: Hull | "nowhere"): Hull | "nowhere" {
  if (!meet(a, b) || a === "nowhere" || b === "nowhere") return "nowhere";
  const result = new Map(a);
  for (const [variable, span] of b) result.set(variable, result.has(variable) ? intersect(result.get(variable)!, span) : span);
  return result;
}

/** Where either may hold. */
export function hullOfEither(a: Hull | "nowhere", b: Hull | "nowhere"): Hull | "nowhere" {
  if (a === "nowhere") return b;
  if (b === "nowhere") return a;
  const result = new Map<number, Span>();
  for (const [variable, span] of a) if (b.has(variable)) result.set(variable, union(span, b.get(variable)!));
  return result;
}

/** Which rules' hulls hold a point. */
export interface HullIndex {
  /** Places of the rules whose hull holds the point, rising. */
  at(position: (variable: number) => number): readonly number[];
  /** Places of the rules that may hold somewhere in a hull, rising. */
  meeting(hull: Hull | "nowhere"): readonly number[];
  /** A point of the box, variable by variable in the given order, each time where the fewest rules are left. */
  lonely(box: readonly (readonly [variable: number, span: Span])[]): ReadonlyMap<number, number>;
}

/**
 * Per variable and position one bit per rule; a point is the `and` of its positions' rows.
 *
 *     c0 = 3   1 0 1 1 0 …
 *     c1 = 7   1 1 0 1 0 …     ──and──▶   1 0 0 1 0 …   rules 0 and 3
 */
export function hullIndex(hulls: readonly (Hull | "nowhere")[], size: (variable: number) => number): HullIndex {
  const words = (hulls.length + 31) >> 5;
  const variables = [...new Set(hulls.flatMap((hull) => (hull === "nowhere" ? [] : [...hull.keys()])))];
  const somewhere = new Uint32Array(words);
  hulls.forEach((hull, rule) => hull !== "nowhere" && (somewhere[rule >> 5]! |= 1 << (rule & 31)));
  const rows = new Map(variables.map((variable) => {
    const bits = new Uint32Array(size(variable) * words);
    hulls.forEach((hull, rule) => {
      if (hull === "nowhere") return;
      const span = hull.get(variable) ?? [0, size(variable) - 1];
      for (let i = 0; i < span.length; i += 2) for (let at = span[i]!; at <= span[i + 1]!; at++) bits[at * words + (rule >> 5)]! |= 1 << (rule & 31);
    });
    return [variable, bits] as const;
  }));
  // The ends of each hull, flat: most rules are told apart by them alone.
  const column = new Map(variables.map((variable, at) => [variable, at * hulls.length]));
  const low = new Int32Array(variables.length * hulls.length);
  const high = new Int32Array(variables.length * hulls.length).fill(2 ** 31 - 1);
  hulls.forEach((hull, rule) => {
    if (hull !== "nowhere") for (const [variable, span] of hull) [low[column.get(variable)! + rule], high[column.get(variable)! + rule]] = [span[0] ?? 1, span.at(-1) ?? 0];
  });
  return {
    meeting(hull) {
      if (hull === "nowhere") return [];
      const ends = [...hull].filter(([variable]) => column.has(variable)).map(([variable, span]) => [column.get(variable)!, span[0] ?? 1, span.at(-1) ?? 0] as const);
      const found: number[] = [];
      for (let rule = 0; rule < hulls.length; rule++)
        if (ends.every(([at, from, to]) => low[at + rule]! <= to && high[at + rule]! >= from) && meet(hulls[rule]!, hull)) found.push(rule);
      return found;
    },
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
          let rules = 0;
          for (let word = 0; word < words; word++) rules += ones(left[word]! & bits[at * words + word]!);
          if (rules < fewest) [best, fewest] = [at, rules];
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

/** The pick with only some of its rules; the places of the rules change, the patterns tell which they are. */
export function subset(rules: PickRules, keep: readonly Rule[]): PickRules {
  const place = new Map(keep.map((rule, at) => [rule.at, at]));
  const moved = (list: readonly number[]): number[] => list.flatMap((at) => place.get(at) ?? []);
  const original = (rule: Rule): Rule => keep[rule.at]!;
  return {
    pick: rules.pick,
    rules: keep.map((rule, at) => ({ ...rule, at, beats: moved(rule.beats), beatenBy: moved(rule.beatenBy) })),
    circles: rules.circles.map(moved).filter((circle) => circle.length > 0),
    moreLocal: rules.moreLocal,
    narrower: (a, b) => rules.narrower(original(a), original(b)),
    byTrust: (a, b) => rules.byTrust(original(a), original(b)),
    ranks: (rule) => rules.ranks(original(rule)),
  };
}
