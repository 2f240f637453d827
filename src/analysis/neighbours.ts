/**
 * Which rules can meet: most patterns of a large book never speak at the same point, and a question about a few of them need not
 * look at the rest.
 *
 *     hull of a `when`: per variable, the positions outside which it surely fails         two hulls with disjoint spans on
 *         c0  ████░░░░     c1  ░░██░░                                                      one variable: the rules never meet
 *
 * A hull may be too wide, never too narrow.
 */
import { disjoint, intersect, isEmpty, union, type Span } from "../model/span.js";
import { FAILS, type Formula, type Formulas } from "./diagrams/formula.js";
import type { PickRules, Rule } from "./rules.js";

/** By variable, never empty; undefined: unlimited. */
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
      for (const [variable, span] of hull) {
        const left = result.has(variable) ? intersect(result.get(variable)!, span) : span;
        if (isEmpty(left)) return "nowhere";
        result.set(variable, left);
      }
    }
    return result;
  }
  const there = hulls.filter((hull) => hull !== "nowhere");
  for (const [variable, span] of there[0] ?? [])
    if (there.every((hull) => hull.has(variable)))
      result.set(
        variable,
        there.slice(1).reduce((sum, hull) => union(sum, hull.get(variable)!), span),
      );
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
