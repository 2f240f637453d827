/**
 * What would change an answer: for each condition the value nearest to the given one with which a pick says something else, all else
 * staying as it is.
 *
 *     water-temp 61 °F     … 49 50 ──── 61 ──── 69 70 …      Only one value of each stretch that no test tells apart is tried, the
 *                            ▲  ◀───────●───────▶  ▲         nearest; on a cycle either way round. Of a set, members are put in or
 *                                                            taken out, as few as will do.
 */
import type { Outcome, Point } from "../analysis/outcome.js";
import { outcomeKey } from "../analysis/answers.js";
import { answersAt } from "../analysis/point.js";
import type { Example } from "../diagnostics.js";
import { spansCompared } from "../model/atoms.js";
import type { Axis, Condition, Model } from "../model/model.js";
import { exampleOf } from "../model/points.js";
import { complement, full, intersect, isEmpty, positions, spanKey, type Span } from "../model/span.js";
import { whyImpossible } from "./answer.js";
import type { Texts } from "../messages/words.js";
import { optionTexts } from "../model/texts.js";

export interface Change {
  readonly condition: string;
  /** The value that would change the answer: a list of members for a set. */
  readonly to: Example[string];
  readonly status: Outcome["status"];
  readonly answer: Texts;
}

/** Of a set with more members than this, only so many changes at once are tried. */
const MOST_TOGETHER = 2;

/** Per pick, at most one change for each condition, in book order. `point` is possible. In short pieces of work. */
export function* tryingOthers(model: Model, point: Point): Generator<void, readonly (readonly Change[])[]> {
  const now = answersAt(model, point).map(({ outcome }) => outcomeKey(outcome));
  const changes: Change[][] = model.picks.map(() => []);
  const spans = spansByAxis(model);
  for (const condition of model.conditions) {
    const open = new Set(model.picks.map(({ index }) => index));
    for (const other of alternatives(model, condition, point, spans)) {
      if (open.size === 0) break;
      yield;
      if (whyImpossible(model, other) !== undefined) continue;
      const answers = answersAt(model, other);
      for (const pick of [...open]) {
        const { outcome } = answers[pick]!;
        if (outcomeKey(outcome) === now[pick]) continue;
        open.delete(pick);
        changes[pick]!.push({
          condition: condition.name,
          to: exampleOf(model, other, [condition.index])[condition.name]!,
          status: outcome.status,
          answer: optionTexts(model.picks[pick]!, outcome.places),
        });
      }
    }
  }
  return changes;
}

/** The point with another value of one condition, nearest first. */
function* alternatives(model: Model, condition: Condition, point: Point, spans: ReadonlyMap<number, readonly Span[]>): Generator<Point> {
  const tested = condition.axes.filter((axis) => spans.has(axis));
  if (condition.domain.kind === "set") {
    for (let together = 1; together <= Math.min(MOST_TOGETHER, tested.length); together++)
      for (const toggled of choose(tested, together))
        yield point.map((position, axis) => (toggled.includes(axis) ? 1 - position : position));
    return;
  }
  for (const axis of tested)
    for (const position of nearestOfEachPart(model.axes[axis]!, point[axis]!, spans.get(axis)!))
      yield point.map((old, at) => (at === axis ? position : old));
}

function nearestOfEachPart(axis: Axis, from: number, spans: readonly Span[]): readonly number[] {
  let parts: readonly Span[] = [full(axis.size)];
  for (const span of spans)
    parts = parts.flatMap((part) => [intersect(part, span), intersect(part, complement(span, axis.size))].filter((some) => !isEmpty(some)));
  const distance = (position: number): number => {
    const straight = Math.abs(position - from);
    return axis.cyclic ? Math.min(straight, axis.size - straight) : straight;
  };
  return parts
    .map((part) => [...positions(part)].reduce((a, b) => (distance(b) < distance(a) ? b : a)))
    .filter((position) => position !== from)
    .sort((a, b) => distance(a) - distance(b) || a - b);
}

/** Every span that some test, or a copy, compares an axis with, once each. */
function spansByAxis(model: Model): ReadonlyMap<number, readonly Span[]> {
  const spans = new Map<number, Map<string, Span>>();
  for (const { axis, span } of spansCompared(model)) spans.set(axis, (spans.get(axis) ?? new Map<string, Span>()).set(spanKey(span), span));
  return new Map([...spans].map(([axis, known]) => [axis, [...known.values()]]));
}

function* choose(list: readonly number[], count: number): Generator<readonly number[]> {
  if (count === 0) yield [];
  else for (let i = 0; i + count <= list.length; i++) for (const rest of choose(list.slice(i + 1), count - 1)) yield [list[i]!, ...rest];
}
