/**
 * Plain tests: those that limit a few axes, each to a span, and nothing else. Most patterns of a book are, and of two plain tests it is
 * soon told whether one implies the other.
 *
 *     clarity is muddy and depth is below 6 ft   ──▶   clarity ▪▪▪█   depth ██▪▪▪▪      a box
 */
import type { Model, Test } from "../model/model.js";
import { full, intersect, isEmpty, within, type Span } from "../model/span.js";

/** By axis; one that is left out is unlimited. */
export type PlainBox = ReadonlyMap<number, Span>;

const everywhere: PlainBox = new Map();
const known = new WeakMap<Test, PlainBox | "nowhere" | "mixed">();

/** The box where a plain test holds; `mixed`: the test is not plain. */
export function plainBox(test: Test | undefined): PlainBox | "nowhere" | "mixed" {
  if (!test) return everywhere;
  let box = known.get(test);
  if (!box) known.set(test, (box = boxOf(test)));
  return box;
}

function boxOf(test: Test): PlainBox | "nowhere" | "mixed" {
  if (test.kind === "always") return everywhere;
  if (test.kind === "axis") return isEmpty(test.span) ? "nowhere" : new Map([[test.axis, test.span]]);
  if (test.kind !== "and") return "mixed";
  const box = new Map<number, Span>();
  for (const part of test.parts) {
    const limits = plainBox(part);
    if (typeof limits === "string") return limits;
    for (const [axis, span] of limits) box.set(axis, box.has(axis) ? intersect(box.get(axis)!, span) : span);
  }
  return [...box.values()].some(isEmpty) ? "nowhere" : box;
}

/** The span a box leaves of an axis. */
export function limitOf({ axes }: Model, box: PlainBox, axis: number): Span {
  return box.get(axis) ?? full(axes[axis]!.size);
}

export function boxInBox(model: Model, inner: PlainBox, outer: PlainBox): boolean {
  for (const [axis, span] of outer) if (!within(limitOf(model, inner, axis), span)) return false;
  return true;
}
