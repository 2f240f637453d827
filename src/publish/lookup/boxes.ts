/** Boxes over axes numbered from 0: on each axis the positions allowed, all of them where it is left out. */
import { full, intersect, isEmpty, subtract, type Span } from "../../model/span.js";

export type Box = ReadonlyMap<number, Span>;

/** Both at once; undefined if nothing is in both. */
export function inside(box: Box, other: Box): Box | undefined {
  const both = new Map(box);
  for (const [axis, span] of other) {
    const mine = both.get(axis);
    const common = mine ? intersect(mine, span) : span;
    if (isEmpty(common)) return undefined;
    both.set(axis, common);
  }
  return both;
}

/** What of disjoint boxes lies in none of the others, as disjoint boxes. */
export function without(boxes: readonly Box[], others: readonly Box[], axes: readonly { readonly size: number }[]): readonly Box[] {
  return others.reduce(
    (left, other) =>
      left.flatMap((box) => {
        if (!inside(box, other)) return [box];
        const parts: Box[] = [];
        let rest = box;
        for (const [axis, span] of other) {
          const mine = rest.get(axis) ?? full(axes[axis]!.size);
          const outside = subtract(mine, span);
          if (!isEmpty(outside)) parts.push(new Map(rest).set(axis, outside));
          rest = new Map(rest).set(axis, intersect(mine, span));
        }
        return parts;
      }),
    boxes,
  );
}
