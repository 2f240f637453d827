/**
 * Hairlines: a gap or conflict that is one single value of a continuous measure, or lies between two written limits no further apart
 * than one unit in the last place written. Nearly always a slip of the pen: `above 10 ft` beside `below 10 ft`.
 *
 * Accepted:
 * ```lore
 * condition wind: 0 to 40 kn
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Light" go with weight 1/4 oz when wind is below 10 kn
 * pattern "Heavy" go with weight 1/2 oz when wind is at least 10 kn
 * ```
 * Rejected (`hairline`):
 * ```lore
 * condition wind: 0 to 40 kn
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Light" go with weight 1/4 oz when wind is below 10 kn
 * pattern "Heavy" go with weight 1/2 oz when wind is above 10 kn
 * ```
 *
 *      settled │ gap │ settled          For each thin run of positions along each continuous axis: the status inside it all along,
 *     ─────────┼─────┼─────────         and on neither side. The rest of the region is reported as a gap or conflict as well.
 *           a−1 a … b b+1
 */
import type { Finding } from "../../diagnostics.js";
import { analysisWords } from "../../messages/analysis.js";
import type { Axis } from "../../model/model.js";
import { union, type Span } from "../../model/span.js";
import type { PickDiagrams } from "../answers.js";
import { boxes, type Box, type Node } from "../diagrams/diagram.js";
import { conjoined, flagged, overAxes, type Flags } from "../diagrams/region.js";
import type { Budget } from "../budget.js";
import { decidedPicks, find, finding, whereabouts, type Check, type Context } from "./context.js";
import { gapDiagram } from "./gaps.js";

export function* hairlines(context: Context): ReturnType<Check> {
  for (const diagrams of decidedPicks(context))
    for (const kind of ["gap", "conflict"] as const) {
      yield;
      yield ofKind(context, diagrams, kind);
    }
}

function ofKind(context: Context, diagrams: PickDiagrams, kind: "gap" | "conflict"): Finding | undefined {
  const { pick } = diagrams.rules;
  const continuous = context.model.axes.filter((axis) => axis.limits && axis.limits.length > 2);
  if (continuous.length === 0) return undefined;
  const asked = {
    picks: [pick.index],
    key: `hairline ${kind} ${context.answers.prints.held(pick.index)}`,
    question: analysisWords.questions.region(pick.name, "hairline"),
    place: pick.namePlace,
  };
  const found = find(context, asked, (target, spend) => {
    const status =
      kind === "gap" ? gapDiagram(context, diagrams, target, spend) : flagged(diagrams.local, target, (leaf) => leaf.status === "conflict");
    const whole = overAxes(context.answers, status, target);
    const there: Box[] = [];
    for (const { box } of boxes(whole, context.answers.variables, (flag) => flag === 1)) {
      spend.spend(1, 1 + box.size);
      there.push(box);
    }
    const thin = continuous
      .filter((axis) => whole.support.includes(axis.index))
      .flatMap((axis) => thinParts(context, whole, there, axis, target, spend));
    return thin.reduce((sum, part) => either(sum, part, context, target), target.leaf(0) as Node<number>);
  });
  if (!found) return undefined;
  return finding(
    "hairline",
    pick.namePlace,
    analysisWords.hairline(pick.name, kind, { where: found.where.text, example: found.example, share: found.share }),
    { pick: pick.name, ...whereabouts(found) },
  );
}

function either(a: Node<number>, b: Node<number>, context: Context, target: Flags): Node<number> {
  return opposite(conjoined([opposite(a, target), opposite(b, target)], target, context.answers.variables), target);
}

function opposite(node: Node<number>, target: Flags): Node<number> {
  return flagged(node, target, (flag) => flag === 0);
}

/** Where the flag is up along a whole thin run of the axis and down on both of its sides. */
function thinParts(context: Context, whole: Node<number>, there: readonly Box[], axis: Axis, target: Flags, spend: Budget): Node<number>[] {
  // A thin run is made of runs of the region's boxes: it starts where one does, ends where one does, and holds a whole one.
  const pieces = there.flatMap((box) => {
    const span = box.get(axis.index) ?? [0, axis.size - 1];
    return Array.from({ length: span.length / 2 }, (_, i) => ({ from: span[2 * i]!, to: span[2 * i + 1]!, box }));
  });
  const starts = new Set(pieces.map(({ from }) => from));
  const ends = new Set(pieces.map(({ to }) => to));
  const candidates = thinRuns(axis).filter(([from, to]) => starts.has(from) && ends.has(to));
  const longest = Math.max(...candidates.map(([from, to]) => to - from));
  const short = pieces.filter(({ from, to }) => to - from <= longest);
  return candidates.flatMap(([from, to]) => {
    const inRun = short.filter((piece) => from <= piece.from && piece.to <= to);
    if (inRun.length === 0) return [];
    spend.spend();
    // Wherever the run is thin, these are all there is of it.
    const place = boundsOf(
      inRun.map(({ box }) => box),
      axis.index,
    );
    const near = [...place].reduce((node, [variable, span]) => target.restrict(node, variable, span), whole);
    const at = (position: number): Node<number> => target.restrict(near, axis.index, [position, position]);
    const sides = [from - 1, to + 1].filter((position) => position >= 0 && position < axis.size);
    // At an end of the range only a single value is thin; a stretch there has nothing beyond it.
    if (sides.length < 2 && from < to) return [];
    const inside = Array.from({ length: to - from + 1 }, (_, i) => at(from + i));
    const part = conjoined(
      [...new Set(inside), ...sides.map((position) => opposite(at(position), target))],
      target,
      context.answers.variables,
    );
    return [
      [...place].reduce(
        (node, [variable, span]) => target.fork(variable, span, node, target.leaf(0)),
        target.fork(axis.index, [from, to], part, target.leaf(0)),
      ),
    ];
  });
}

/** The limits that hold of all the boxes, but those on one axis. */
function boundsOf(boxes: readonly Box[], but: number): Box {
  const [first, ...others] = boxes;
  const bounds = new Map<number, Span>();
  for (const [variable, span] of first!)
    if (variable !== but && others.every((box) => box.has(variable)))
      bounds.set(
        variable,
        others.reduce((sum, box) => union(sum, box.get(variable)!), span),
      );
  return bounds;
}

/** Single values, and runs between two limits at most one unit in the last place apart. */
function thinRuns({ limits = [], precision = [], size }: Axis): (readonly [number, number])[] {
  const runs: (readonly [number, number])[] = limits.map((_, i) => [2 * i, 2 * i] as const);
  for (let i = 0; i < limits.length; i++)
    for (let j = i + 1; j < limits.length; j++) {
      const unit = precision[i]!.compare(precision[j]!) > 0 ? precision[i]! : precision[j]!;
      if (limits[j]!.sub(limits[i]!).compare(unit) > 0) break;
      for (const from of [2 * i, 2 * i + 1])
        for (const to of [2 * j - 1, 2 * j]) if (from <= to && from >= 0 && to < size) runs.push([from, to]);
    }
  return runs;
}
