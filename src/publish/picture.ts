/**
 * One pick's recommendation over two conditions, as cells of a chart; a third condition makes one chart for each of its values.
 *
 *                    cold   cool   warm         Every level of a scale is a part of its side. A measure, the days and the times are cut
 *     very-clear      ?      L      L           at every limit that tells two answers apart and at every band; of a set, subsets that
 *     stained         R      T      L           nothing tells apart are one part. So each cell has one exact answer, or it depends on
 *     muddy           R      R      R           what is not known, with the exact share of everything that is possible there.
 *
 * What is known of other conditions holds in every cell; what is known of the conditions on the sides is left aside.
 */
import type Fraction from "fraction.js";
import type { Budget } from "../analysis/budget.js";
import { withinBudget } from "../analysis/budget.js";
import { isFork, type Box, type Node } from "../analysis/diagrams/diagram.js";
import type { Status } from "../analysis/outcome.js";
import type { Condition, Model, Places } from "../model/model.js";
import { full, holds, run, type Span } from "../model/span.js";
import type { Joint, Together } from "../answer/joint.js";
import { safeList, sharesIn, type Possible } from "../answer/answer.js";
import { leftOver } from "../answer/left.js";
import { classesOf } from "../analysis/diagrams/classes.js";

/** What a picture is made from: the answers of one pick among possible points, and what its axes mean. */
export interface PictureSource {
  readonly model: Pick<Model, "conditions" | "axes" | "bands">;
  readonly joint: Joint;
  /** Splits and nodes allowed, anew for each question. */
  readonly fresh: () => Budget;
}

export interface Picture {
  readonly down: PictureSide;
  readonly across: PictureSide;
  /** One, or one for each part of the third condition. */
  readonly frames: readonly Frame[];
}
export interface PictureSide {
  /** Index of the condition. */
  readonly condition: number;
  readonly parts: readonly PicturePart[];
  /** False: only some of its values have a part, or a part holds values that answers tell apart. */
  readonly exact: boolean;
}
export interface PicturePart {
  /** Disjoint, over the axes of the condition; of anything but a set just one. No answer of the pick tells two of them apart. */
  readonly boxes: readonly Box[];
  /** Index of the band it lies in. */
  readonly band?: number;
}
export interface Frame {
  readonly part?: PicturePart;
  /** A row for each part down, in it a cell for each part across. */
  readonly cells: readonly (readonly Cell[])[];
}
export interface Cell {
  /** Every outcome that is left, largest share first. None: nothing that agrees with all this is possible. */
  readonly possible: readonly Possible[];
  /** The same by what stands in front. */
  readonly fronts: readonly FrontShare[];
  /** Options that stand in the list whatever is unknown, by their worst place. */
  readonly safe: Places;
  /** The budget did not do for it. */
  readonly undecided?: true;
}
export interface FrontShare {
  /** Options in front. None: there is no list, and `status` says why. */
  readonly options: readonly number[];
  readonly status: Status;
  /** Of the outcomes with this front the likeliest. */
  readonly likeliest: Possible;
  readonly share: Fraction;
}

export interface PictureOptions {
  readonly down: number;
  readonly across: number;
  /** A third condition. */
  readonly by?: number;
  /** What is known. */
  readonly known?: Box;
}

/** Beyond this a side is cut at its bands only, or shows single members of a set only. */
const MOST_PARTS = 24;
const MOST_SUBSETS = 9;

/** `down`, `across` and `by` are three different conditions. */
export function pictureOf(source: PictureSource, { down, across, by, known = new Map() }: PictureOptions): Picture {
  const sides = [down, across, ...(by === undefined ? [] : [by])];
  const held = withoutConditions(source.model, known, sides);
  const [downSide, acrossSide, third] = sides.map((condition) => sideOf(source, condition, held));
  const frameOf = (part?: PicturePart): Frame => ({
    part,
    cells: downSide!.parts.map((one) => acrossSide!.parts.map((other) => cellIn(source, joined(held, one, other, part)))),
  });
  return { down: downSide!, across: acrossSide!, frames: third ? third.parts.map(frameOf) : [frameOf()] };
}

/** The parts of one side of a picture. `held`: what is known of everything else. */
export function sideOf(source: PictureSource, condition: number, held: Box = new Map()): PictureSide {
  const { model, joint } = source;
  const about = model.conditions[condition]!;
  const node = withinBudget(() => [...held].reduce((at, [axis, span]) => joint.forest.restrict(at, axis, span), joint.node)) ?? joint.node;
  if (about.domain.kind === "set") return { condition, ...subsetParts(source, about, node) };
  const axis = about.axes[0]!;
  const size = model.axes[axis]!.size;
  // What cannot be needs no part.
  const isLeft = ({ boxes }: PicturePart): boolean => {
    const below = withinBudget(() => joint.forest.restrict(node, axis, boxes[0]!.get(axis)!));
    return below === undefined || isFork(below) || below.leaf !== undefined;
  };
  const left = (parts: readonly PicturePart[]): readonly PicturePart[] => (parts.some(isLeft) ? parts.filter(isLeft) : parts);
  const partOf = (span: Span): PicturePart => {
    const band = model.bands.find((one) => one.condition === condition && holds(one.span, span[0]!) && holds(one.span, span[1]!));
    return { boxes: [new Map([[axis, span]])], ...(band && { band: band.index }) };
  };
  if (about.domain.kind === "scale")
    return { condition, parts: left(about.domain.levels.map((_, level) => partOf(run(level, level)))), exact: true };
  const bands = model.bands.filter((band) => band.condition === condition).map(({ span }) => span);
  const exact = runsBetween([...bands, ...classesOf(node, axis, size)], size);
  const coarse = exact.length > MOST_PARTS && bands.length > 1 ? runsBetween(bands, size) : exact;
  return { condition, parts: left(coarse.map(partOf)), exact: coarse === exact };
}

/** What is left in a box. */
export function cellIn({ model, joint, fresh }: PictureSource, box: Box): Cell {
  const possible = withinBudget(() => sharesIn(leftOver(model, joint, box, fresh())));
  if (!possible) return { possible: [], fronts: [], safe: [], undecided: true };
  return { possible, fronts: frontsOf(possible), safe: possible.length === 0 ? [] : safeList(possible.map(({ outcome }) => outcome)) };
}

/** Outcomes by what stands in front, largest share first. */
function frontsOf(possible: readonly Possible[]): readonly FrontShare[] {
  const fronts = new Map<string, FrontShare>();
  for (const one of possible) {
    const { status, places } = one.outcome;
    const options = places[0] ?? [];
    const key = options.length > 0 ? options.join(",") : status;
    const known = fronts.get(key);
    fronts.set(key, known ? { ...known, share: known.share.add(one.share) } : { options, status, likeliest: one, share: one.share });
  }
  return [...fronts.values()].sort((a, b) => b.share.compare(a.share));
}

/** A stretch of cells that look alike: first and last row, first and last column. */
export interface Rectangle {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

/** Few rectangles that hold every cell once, each of cells with one key: widest first, then as tall as it goes. */
export function rectanglesOf<T>(cells: readonly (readonly T[])[], keyOf: (cell: T) => string): readonly Rectangle[] {
  const keys = cells.map((row) => row.map(keyOf));
  const taken = keys.map((row) => row.map(() => false));
  const found: Rectangle[] = [];
  keys.forEach((row, top) =>
    row.forEach((key, left) => {
      if (taken[top]![left]) return;
      const free = (y: number, x: number): boolean => keys[y]?.[x] === key && !taken[y]![x];
      let right = left;
      while (free(top, right + 1)) right++;
      const columns = Array.from({ length: right - left + 1 }, (_, i) => left + i);
      let bottom = top;
      while (columns.every((x) => free(bottom + 1, x))) bottom++;
      for (let y = top; y <= bottom; y++) for (const x of columns) taken[y]![x] = true;
      found.push({ top, bottom, left, right });
    }),
  );
  return found;
}

/** Everything that is known but of some conditions. */
export function withoutConditions(model: Pick<Model, "conditions">, known: Box, conditions: readonly number[]): Box {
  const axes = new Set(conditions.flatMap((index) => model.conditions[index]!.axes));
  return new Map([...known].filter(([axis]) => !axes.has(axis)));
}

/** One box of all parts; any of a part's boxes will do, since nothing tells them apart. */
export function joined(held: Box, ...parts: readonly (PicturePart | undefined)[]): Box {
  return new Map([...held, ...parts.flatMap((part) => (part ? [...part.boxes[0]!] : []))]);
}

/** Runs of positions that none of the spans tells apart. */
function runsBetween(spans: readonly Span[], size: number): readonly Span[] {
  const starts = new Set([0]);
  for (const span of spans) for (let i = 0; i < span.length; i += 2) starts.add(span[i]!).add(span[i + 1]! + 1);
  const sorted = [...starts].filter((start) => start < size).sort((a, b) => a - b);
  return sorted.map((from, i) => run(from, (sorted[i + 1] ?? size) - 1));
}

/** Subsets that have the same answers below them, fewest members first; where these are too many, no member and each member alone. */
function subsetParts(
  { model, joint, fresh }: PictureSource,
  { axes, domain }: Condition,
  node: Node<Together>,
): Pick<PictureSide, "parts" | "exact"> {
  const spend = fresh();
  let found: Map<number, { readonly below: Node<Together>; readonly boxes: readonly Box[] }> | undefined = new Map([
    [node.id, { below: node, boxes: [new Map()] }],
  ]);
  for (const axis of axes) {
    if (!node.support.includes(axis)) continue;
    const next: typeof found = new Map();
    for (const { below, boxes } of found!.values()) {
      const sides = below.support.includes(axis)
        ? [0, 1].map((position) => [run(position, position), below] as const)
        : [[full(model.axes[axis]!.size), below] as const];
      for (const [span, at] of sides) {
        const after = withinBudget(() => joint.forest.restrict(at, axis, span)) ?? at;
        spend.spend();
        const longer = boxes.map((box) => (span[0] === span[1] ? new Map(box).set(axis, span) : box));
        const known = next.get(after.id);
        next.set(after.id, { below: after, boxes: known ? [...known.boxes, ...longer] : longer });
      }
    }
    found = next;
  }
  const parts = [...found!.values()]
    .filter(({ below }) => isFork(below) || below.leaf !== undefined)
    .map(({ boxes }): PicturePart => ({ boxes }));
  if (parts.length > 0 && parts.length <= MOST_SUBSETS) return { parts, exact: true };
  const atLeastOne = domain.kind === "set" && domain.atLeastOne;
  const single = axes.map((chosen): PicturePart => ({
    boxes: [new Map(axes.map((axis) => [axis, run(Number(axis === chosen), Number(axis === chosen))]))],
  }));
  return { parts: [...(atLeastOne ? [] : [{ boxes: [new Map(axes.map((axis) => [axis, run(0, 0)]))] }]), ...single], exact: false };
}
