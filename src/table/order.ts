/**
 * Rows as a chart on the wall reads: grouped by tested picks, then by the condition that parts most rows, levels from low to high, "any" at the end.
 *
 *     clear    bright   …          Column by column: first the condition most rows name, then the next; ties stand as in the book.
 *     clear    dark     …
 *     muddy    any      …
 */
import type { Model } from "../model/model.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { positions, type Span } from "../model/span.js";
import type { Front } from "../analysis/point.js";
import type { Tested } from "./tested.js";

/** The rows in order, and the tested picks and the conditions they name in the order of columns. */
export function inReadingOrder<R extends { readonly box: Box }>(
  model: Model,
  rows: readonly R[],
  tested: readonly Tested[] = [],
): { readonly tested: readonly Tested[]; readonly conditions: readonly number[]; readonly rows: readonly R[] } {
  const times = (axes: readonly number[]): number => rows.filter(({ box }) => axes.some((axis) => box.has(axis))).length;
  const picks = tested.filter(({ variable }) => times([variable]) > 0).sort((a, b) => times([b.variable]) - times([a.variable]));
  const named = model.conditions.map(({ axes }) => times(axes));
  const conditions = model.conditions
    .map(({ index }) => index)
    .filter((condition) => named[condition]! > 0)
    .sort((a, b) => named[b]! - named[a]! || a - b);
  const columns = conditions.flatMap((condition) =>
    model.conditions[condition]!.axes.map((axis) => ({ axis, member: model.axes[axis]!.member !== undefined })),
  );
  const compare = (a: Box, b: Box): number => {
    for (const { variable, fronts } of picks) {
      const difference = compareFronts(fronts, a.get(variable), b.get(variable));
      if (difference !== 0) return difference;
    }
    for (const { axis, member } of columns) {
      const difference = member ? memberRank(a.get(axis)) - memberRank(b.get(axis)) : compareSpans(a.get(axis), b.get(axis));
      if (difference !== 0) return difference;
    }
    return 0;
  };
  return { tested: picks, conditions, rows: [...rows].sort((a, b) => compare(a.box, b.box)) };
}

/** Spans of a pick's fronts, by the options in them; what is no option comes last, no limit at all after that. */
export function compareFronts(fronts: readonly Front[], a: Span | undefined, b: Span | undefined): number {
  return compareSpans(ranks(fronts, a), ranks(fronts, b));
}

/** What is no option stands after all options. */
const NO_OPTION = Number.MAX_SAFE_INTEGER;

function ranks(fronts: readonly Front[], span: Span | undefined): readonly number[] | undefined {
  return (
    span &&
    [...positions(span)]
      .flatMap((at): readonly number[] => (typeof fronts[at] === "string" ? [NO_OPTION] : fronts[at]!))
      .sort((a, b) => a - b)
  );
}

/** With the member, without it, either way. */
function memberRank(span: Span | undefined): number {
  return span === undefined ? 2 : 1 - span[0]!;
}

/** By the first position, then run by run; a limit before none at all. */
function compareSpans(a: Span | undefined, b: Span | undefined): number {
  if (!a || !b) return a ? -1 : b ? 1 : 0;
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    const difference = (a[i] ?? -1) - (b[i] ?? -1);
    if (difference !== 0) return difference;
  }
  return 0;
}
