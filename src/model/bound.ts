/**
 * Tests with every name bound, before the axes are known: a continuous measure can only be cut into positions when all the limits
 * written anywhere have been seen. So a test is bound first and encoded later (`encode.ts`).
 *
 * What is asked of a condition or pick is a list of stretches of its *rungs*, exact rationals:
 *
 *     a list (scale, options)   0, 1, 2 …             a stepped measure   (value − LOW) / STEP
 *     a continuous measure      the value itself      days, times         0 … 365, 0 … 1439
 *
 *     is dirty or dirtier   [2, top]        below 50 °F   [bottom, 50)        from nov 1 to feb 1   [305, 31], round the year
 */
import type { Fraction } from "fraction.js";
import type { Range } from "../text.js";

export interface Stretch {
  readonly from: Fraction;
  readonly to: Fraction;
  /** Is the end itself in? */
  readonly fromIn: boolean;
  readonly toIn: boolean;
}

export type Bound =
  | { readonly kind: "and" | "or"; readonly parts: readonly Bound[]; readonly range: Range }
  | { readonly kind: "not"; readonly part: Bound; readonly range: Range }
  /** On a condition with one axis: some stretches of its rungs. On a cycle one that ends before it starts goes round. */
  | { readonly kind: "condition"; readonly condition: number; readonly stretches: readonly Stretch[]; readonly range: Range }
  | { readonly kind: "member"; readonly condition: number; readonly member: number; readonly present: boolean; readonly range: Range }
  /** `pick` counts in the order written. */
  | { readonly kind: "pick"; readonly pick: number; readonly stretches: readonly Stretch[]; readonly range: Range }
  /** Could not be read, and has been reported. */
  | { readonly kind: "unread"; readonly range: Range }
  | { readonly kind: "always" | "never"; readonly range: Range };

export function isReadable(test: Bound | undefined): boolean {
  if (test === undefined) return true;
  if (test.kind === "and" || test.kind === "or") return test.parts.every(isReadable);
  if (test.kind === "not") return isReadable(test.part);
  return test.kind !== "unread";
}

/** Every unreadable part, and every test of a pick that `isKnown` does not vouch for, taken so that the whole is as wide as it can be; undefined if that is everywhere. */
export function widest(test: Bound | undefined, isKnown: (pick: number) => boolean): Bound | undefined {
  if (test === undefined) return undefined;
  const wide = take(test, true, isKnown);
  return wide.kind === "always" ? undefined : wide;
}

/** The picks a test reads. */
export function picksIn(test: Bound | undefined): ReadonlySet<number> {
  const picks = new Set<number>();
  const visit = (part: Bound): void => {
    if (part.kind === "and" || part.kind === "or") part.parts.forEach(visit);
    else if (part.kind === "not") visit(part.part);
    else if (part.kind === "pick") picks.add(part.pick);
  };
  if (test !== undefined) visit(test);
  return picks;
}

/** The same test as it stands at another place: a situation where its name is written. */
export function placedAt(test: Bound, range: Range): Bound {
  if (test.kind === "and" || test.kind === "or") return { ...test, parts: test.parts.map((part) => placedAt(part, range)), range };
  if (test.kind === "not") return { ...test, part: placedAt(test.part, range), range };
  return { ...test, range };
}

/** What is not known becomes `wide`, with the sides changed inside a `not`; constants are folded. */
function take(test: Bound, wide: boolean, isKnown: (pick: number) => boolean): Bound {
  const { range } = test;
  switch (test.kind) {
    case "unread":
      return { kind: wide ? "always" : "never", range };
    case "pick":
      return isKnown(test.pick) ? test : { kind: wide ? "always" : "never", range };
    case "not": {
      const part = take(test.part, !wide, isKnown);
      if (part.kind === "always") return { kind: "never", range };
      if (part.kind === "never") return { kind: "always", range };
      return { kind: "not", part, range };
    }
    case "and":
    case "or": {
      const [neutral, absorbing] = test.kind === "and" ? (["always", "never"] as const) : (["never", "always"] as const);
      const parts = test.parts.map((part) => take(part, wide, isKnown)).filter((part) => part.kind !== neutral);
      if (parts.some((part) => part.kind === absorbing)) return { kind: absorbing, range };
      if (parts.length === 0) return { kind: neutral, range };
      return parts.length === 1 ? parts[0]! : { kind: test.kind, parts, range };
    }
    default:
      return test;
  }
}
