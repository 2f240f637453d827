/**
 * Conditions to axes: positions on which everything after this stage works (the drawing stands in `model.ts`).
 *
 *     depth 0 to 40 ft, "below 10 ft", "is 12.5 ft or deeper"
 *     limits      0     10    12.5   40          cut at every limit written anywhere
 *     positions   0  1  2  3   4  5   6
 *     weights     0 20  0  5   0 55   0          lengths over their common measure; a single value has none
 */
import { Fraction } from "fraction.js";
import type { Stretch } from "./bound.js";
import type * as model from "./model.js";
import type { Written } from "./quantities.js";
import type { Measure, Values } from "./scope.js";
import { indexOfLimit } from "./limits.js";
import { isCyclic, rungEnds } from "./values.js";
import { empty, run, union, type Span } from "./span.js";

/** The axes of a condition, numbered from `start`. `limits`: those written on a continuous measure, in its unit. */
export function axesOf(condition: number, values: Values, start: number, limits: readonly Written[]): model.Axis[] {
  if (values.kind === "set")
    return values.members.map((_, member) => ({ index: start + member, condition, member, size: 2, cyclic: false }));
  if (values.kind === "measure" && values.step === undefined) return [cutAxis(condition, values, start, limits)];
  return [{ index: start, condition, size: Number(rungEnds(values).top.n) + 1, cyclic: isCyclic(values) }];
}

/** The positions in some stretches of rungs. */
export function spanOn(axis: model.Axis, stretches: readonly Stretch[]): Span {
  return stretches.map((stretch) => spanOfStretch(axis, stretch)).reduce(union, empty);
}

/** The options in some stretches of rungs of a pick. */
export function spanOfOptions(count: number, stretches: readonly Stretch[]): Span {
  return stretches.map((stretch) => wholeRungs(stretch, count)).reduce(union, empty);
}

function spanOfStretch(axis: model.Axis, stretch: Stretch): Span {
  if (axis.cyclic && stretch.from.gt(stretch.to)) {
    const [last, first] = [new Fraction(axis.size - 1), new Fraction(0)];
    return union(
      wholeRungs({ ...stretch, to: last, toIn: true }, axis.size),
      wholeRungs({ ...stretch, from: first, fromIn: true }, axis.size),
    );
  }
  if (axis.limits === undefined) return wholeRungs(stretch, axis.size);
  const [from, to] = [indexOfLimit(axis.limits, stretch.from), indexOfLimit(axis.limits, stretch.to)];
  return run(2 * from + (stretch.fromIn ? 0 : 1), 2 * to - (stretch.toIn ? 0 : 1));
}

function wholeRungs({ from, fromIn, to, toIn }: Stretch, size: number): Span {
  const first = !fromIn && from.d === 1n ? from.add(1) : from.ceil();
  const last = !toIn && to.d === 1n ? to.sub(1) : to.floor();
  return run(Math.max(0, first.valueOf()), Math.min(size - 1, last.valueOf()));
}

function cutAxis(condition: number, measure: Measure, index: number, written: readonly Written[]): model.Axis {
  const none = new Fraction(0);
  const all: Written[] = [{ value: measure.low, precision: none }, { value: measure.high, precision: none }, ...written];
  all.sort((a, b) => a.value.compare(b.value));
  const limits: Fraction[] = [];
  const precision: Fraction[] = [];
  for (const limit of all) {
    const last = limits.length - 1;
    if (last < 0 || !limits[last]!.equals(limit.value)) {
      limits.push(limit.value);
      precision.push(limit.precision);
    } else if (limit.precision.gt(precision[last]!)) precision[last] = limit.precision;
  }
  return { index, condition, size: 2 * limits.length - 1, cyclic: false, weights: weightsOf(limits), limits, precision };
}

/** Stretch lengths as whole numbers without a common factor, 0 for the single values between them. */
function weightsOf(limits: readonly Fraction[]): bigint[] {
  const lengths = limits.slice(1).map((limit, i) => limit.sub(limits[i]!));
  const common = lengths.reduce((measure, length) => measure.gcd(length));
  return [0n, ...lengths.flatMap((length) => [length.div(common).n, 0n])];
}
