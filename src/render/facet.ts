/**
 * What the rows of a table are told apart by, as columns of a chart: picks that are answered in a chart of their own, then conditions.
 *
 *     Bait family          Depth         Weight
 *     spinnerbait          below 6 ft    1/4 oz        a pick: which answers of it; `axes` is then its one variable
 *     jig                  any           3/8 oz
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import type { Model } from "../model/model.js";
import type { Span } from "../model/span.js";
import type { Tested } from "../table/tested.js";
import { compareFronts } from "../table/order.js";
import { cellWords, frontWords, unionWords, type Legend } from "./words.js";

export interface Facet {
  readonly name: string;
  readonly label: string;
  readonly axes: readonly number[];
  /** Of a set a row may ask for several members, each an axis of its own. */
  readonly isSet: boolean;
  /** Negative: one span of a facet of one axis comes before another. */
  compare(a: Span, b: Span): number;
  /** What a box asks of it; "any" if nothing. */
  words(box: Box, legend?: Legend): string;
  /** What several boxes ask of it together; undefined where that takes as many words as boxes. */
  union(boxes: readonly Box[], legend?: Legend): string | undefined;
}

export function facetsOf({
  model,
  tested,
  conditions,
}: {
  readonly model: Model;
  readonly tested: readonly Tested[];
  readonly conditions: readonly number[];
}): readonly Facet[] {
  return [
    ...tested.map(({ pick, variable, fronts }): Facet => {
      const { name, label, options } = model.picks[pick]!;
      const texts = options.map(({ text }) => text);
      return {
        name,
        label,
        axes: [variable],
        isSet: false,
        compare: (a, b) => compareFronts(fronts, a, b),
        words: (box) => frontWords(texts, fronts, box.get(variable)),
        union: () => undefined,
      };
    }),
    ...conditions.map((index): Facet => {
      const condition = model.conditions[index]!;
      return {
        name: condition.name,
        label: condition.label,
        axes: condition.axes,
        isSet: condition.domain.kind === "set",
        compare: (a, b) => a[0]! - b[0]!,
        words: (box, legend) => cellWords(model, condition, box, legend),
        union: (boxes, legend) => unionWords(model, condition, boxes, legend),
      };
    }),
  ];
}

/** How many positions a facet's one axis has. */
export function sizeOf({ model, tested }: { readonly model: Model; readonly tested: readonly Tested[] }, { axes }: Facet): number {
  return tested.find(({ variable }) => variable === axes[0])?.fronts.length ?? model.axes[axes[0]!]!.size;
}
