/**
 * What a customer has told, without what no test of the book can tell apart.
 *
 *     water-temp 52 °F and water-temp 61 °F, where the book speaks of "below 50 °F" and "below 70 °F" only,   ──▶   one key
 *
 * Everything that `answer` says of picks, cautions, questions and shares is the same for all that have one key; only what was given reads
 * differently. A log of a million trips has far fewer keys than trips.
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import { spansCompared } from "../model/atoms.js";
import type { Model } from "../model/model.js";
import { count, holds, spanKey, type Span } from "../model/span.js";

/** A function from what is known to its key. */
export function alikeKey(model: Model): (box: Box) => string {
  const classes = model.axes.map(({ size }) => new Array<number>(size).fill(0));
  const tell = (axis: number, span: Span): void => {
    const numbers = new Map<string, number>();
    classes[axis] = classes[axis]!.map((old, position) => {
      const key = `${old}${holds(span, position) ? "in" : "out"}`;
      if (!numbers.has(key)) numbers.set(key, numbers.size);
      return numbers.get(key)!;
    });
  };
  const cautions = model.cautions.map(({ when }) => when);
  for (const { axis, span } of spansCompared(model, cautions)) tell(axis, span);
  // An axis of one class is in no test: whether it is known does not matter either.
  const told = model.axes.filter(({ index }) => classes[index]!.some((number) => number > 0));
  return (box) => {
    let key = "";
    for (const { index } of told) {
      const span = box.get(index);
      // Of what is partly known it matters how much of each class is left.
      key += span === undefined ? "?" : count(span) === 1 ? classes[index]![span[0]!]! : spanKey(span);
      key += "|";
    }
    return key;
  };
}
