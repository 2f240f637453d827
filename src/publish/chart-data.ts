/**
 * What goes on a wall chart and on a counter card, as plain data.
 *
 *     wall chart   the two conditions that settle most, each in a handful of parts (levels, bands), one cell for each pair
 *     card         what is known this week ──settled?──▶ first, second, third choice
 *                                          ──open?─────▶ the one question that settles most, and up to three replies with their choice
 *
 * "Settles most" is measured as for the question at the counter: by agreement, the chance that two possible points which fall into one
 * cell have the same option in front (Gini 1912), as an exact fraction.
 */
import Fraction from "fraction.js";
import { withinBudget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { weigher } from "../analysis/diagrams/weigher.js";
import { atomsOf } from "../model/atoms.js";
import type { Condition, Model, Test } from "../model/model.js";
import { count } from "../model/span.js";
import type { Together } from "../answer/joint.js";
import {
  cellIn,
  joined,
  sideOf,
  withoutConditions,
  type Cell,
  type FrontShare,
  type PicturePart,
  type PictureSide,
  type PictureSource,
} from "./picture.js";
import { mergedPart } from "./picture-words.js";

export interface WallChart {
  /** None: no condition is left that matters. */
  readonly down?: PictureSide;
  readonly across?: PictureSide;
  /** A row for each part down, in it a cell for each part across; one of either where there is no such side. */
  readonly cells: readonly (readonly Cell[])[];
  /** Other conditions that still change the answer, the one that settles most first. */
  readonly others: readonly number[];
}

export interface CounterCard {
  /** Index of the condition that the choices are replies to; none: the choices are first, second and third. */
  readonly question?: number;
  /** At most three. */
  readonly choices: readonly Choice[];
  /** How many further choices there would be. */
  readonly more: number;
}
export interface Choice {
  /** Replies that lead here; empty where there is no question. */
  readonly parts: readonly PicturePart[];
  /** Options side by side; none: no recommendation, and `front.status` says why. */
  readonly options: readonly number[];
  readonly front: FrontShare;
  /** False: with some reply, something else that is not known may change it. */
  readonly sure: boolean;
}

export interface ChartOptions {
  /** What is known; these conditions are not asked about. */
  readonly known?: Box;
  /** Sides chosen by hand. */
  readonly down?: number;
  readonly across?: number;
}

/** More columns or rows than this are not read from two metres. */
const MOST_ACROSS = 5;
const MOST_DOWN = 6;
/** So many conditions are tried in pairs. */
const MOST_PAIRED = 5;
const MOST_CHOICES = 3;

export function wallChart(source: PictureSource, { known = new Map(), down, across }: ChartOptions = {}): WallChart {
  const ranked = bySettling(source, known);
  const chosen = down !== undefined && across !== undefined ? [down, across] : bestPair(source, ranked, known);
  const sides = chosen.map((condition) => handful(source, condition, known));
  const [first, second] = sides;
  // Across goes the side with more parts, as long as they can be read; what was chosen by hand stays where it was put.
  const turned =
    down === undefined &&
    first &&
    second &&
    ((second.parts.length < first.parts.length && first.parts.length <= MOST_ACROSS) || second.parts.length > MOST_ACROSS);
  const [downSide, acrossSide] = first && !second ? [undefined, first] : turned ? [second, first] : [first, second];
  const held = withoutConditions(source.model, known, chosen);
  const parts = (side: PictureSide | undefined): readonly (PicturePart | undefined)[] => side?.parts ?? [undefined];
  return {
    down: downSide,
    across: acrossSide,
    cells: parts(downSide).map((one) => parts(acrossSide).map((other) => cellIn(source, joined(held, one, other)))),
    others: ranked.filter((condition) => !chosen.includes(condition)),
  };
}

export function counterCard(source: PictureSource, known: Box = new Map()): CounterCard {
  const cell = cellIn(source, known);
  const [front] = cell.fronts;
  const question = cell.fronts.length > 1 ? bySettling(source, known)[0] : undefined;
  if (front === undefined) return { choices: [], more: 0 };
  if (question === undefined) {
    const { places } = front.likeliest.outcome;
    const same = (place: number): boolean => cell.possible.every(({ outcome }) => String(outcome.places[place]) === String(places[place]));
    const all =
      places.length === 0
        ? [{ parts: [], options: [], front, sure: true }]
        : places.map((options, place): Choice => ({ parts: [], options, front, sure: same(place) }));
    return { choices: all.slice(0, MOST_CHOICES), more: Math.max(0, all.length - MOST_CHOICES) };
  }
  const held = withoutConditions(source.model, known, [question]);
  const groups = new Map<string, Choice>();
  for (const part of handful(source, question, known).parts) {
    const { fronts } = cellIn(source, joined(held, part));
    const [top] = fronts;
    if (!top) continue;
    const key = top.options.length > 0 ? String(top.options) : top.status;
    const group = groups.get(key);
    const sure = fronts.length === 1;
    groups.set(
      key,
      group
        ? { ...group, parts: [...group.parts, part], sure: group.sure && sure }
        : { parts: [part], options: top.options, front: top, sure },
    );
  }
  const choices = [...groups.values()];
  return { question, choices: choices.slice(0, MOST_CHOICES), more: Math.max(0, choices.length - MOST_CHOICES) };
}

/** The two conditions that settle most of what is not known; fewer where fewer matter. */
export function settlingPair(source: PictureSource, known: Box = new Map()): readonly number[] {
  return bestPair(source, bySettling(source, known), known);
}

/** Patterns that speak on a pick and go by a condition that a chart does not show: what to look out for beside it. In book order. */
export function beyond(model: Model, pick: number, shown: readonly number[]): readonly number[] {
  return model.patterns
    .filter(
      ({ goes, leans, nevers, moves, when }) =>
        [...goes, ...leans, ...nevers, ...moves].some((one) => one.pick === pick) &&
        conditionsOf(model, when).some((condition) => !shown.includes(condition)),
    )
    .map(({ index }) => index);
}

/** Conditions whose reply can change what is in front, the one that settles most first; ties stand as in the book. */
function bySettling(source: PictureSource, known: Box): readonly number[] {
  const none = agreement(source, known, [[new Map()]]);
  return askable(source, known)
    .map(({ index }) => ({
      index,
      settles: agreement(source, known, [handful(source, index, known).parts.flatMap(({ boxes }) => boxes)]),
    }))
    .filter(({ settles }) => settles && none && settles.compare(none) > 0)
    .sort((a, b) => b.settles!.compare(a.settles!) || a.index - b.index)
    .map(({ index }) => index);
}

function bestPair(source: PictureSource, ranked: readonly number[], known: Box): readonly number[] {
  const sides = ranked.map((condition) => handful(source, condition, known)).filter(({ parts }) => parts.length <= MOST_DOWN);
  const tried = sides.slice(0, MOST_PAIRED).map(({ condition }) => condition);
  const side = new Map(sides.map(({ condition, parts }) => [condition, parts.flatMap(({ boxes }) => boxes)]));
  let best: { readonly pair: readonly number[]; readonly settles: Fraction } | undefined;
  tried.forEach((one, i) =>
    tried.slice(i + 1).forEach((other) => {
      const settles = agreement(source, known, [side.get(one)!, side.get(other)!]);
      if (settles && (!best || settles.compare(best.settles) > 0)) best = { pair: [one, other], settles };
    }),
  );
  return best?.pair ?? tried.slice(0, 2);
}

/** The sun and the moon nobody reads off a wall. A condition of which something is known is held. */
function askable({ model, joint }: PictureSource, known: Box): readonly Condition[] {
  return model.conditions.filter(
    ({ axes, filledFrom }) =>
      filledFrom !== "sun" &&
      filledFrom !== "moon" &&
      axes.some((axis) => joint.node.support.includes(axis)) &&
      !axes.some((axis) => known.has(axis)),
  );
}

/** The chance that two possible points of one cell have the same front; cells are all combinations of one box of each side. Undefined: out of budget. */
function agreement({ joint, fresh }: PictureSource, known: Box, sides: readonly (readonly Box[])[]): Fraction | undefined {
  const cells = sides.reduce<readonly Box[]>((all, side) => all.flatMap((box) => side.map((more) => new Map([...box, ...more]))), [known]);
  return withinBudget(() => {
    const spend = fresh();
    let [agreed, total] = [new Fraction(0), 0n];
    for (const box of cells) {
      const fronts = new Map<string, bigint>();
      let all = 0n;
      for (const [leaf, weight] of weigher<Together>(joint.variables, box, spend).weigh(joint.node, joint.node.support)) {
        if (leaf === undefined) continue;
        fronts.set(frontKey(leaf), (fronts.get(frontKey(leaf)) ?? 0n) + weight);
        all += weight;
      }
      if (all === 0n) continue;
      total += all;
      agreed = agreed.add(
        new Fraction(
          [...fronts.values()].reduce((sum, weight) => sum + weight * weight, 0n),
          all,
        ),
      );
    }
    return total === 0n ? new Fraction(0) : agreed.div(new Fraction(total, 1n));
  });
}

function frontKey(leaf: NonNullable<Together>): string {
  const { status, places } = leaf[0]!;
  return places.length > 0 ? String(places[0]) : status;
}

/** A side in a few parts: levels of a scale, bands of a measure or else neighbors put together, what nothing tells apart of a set. */
function handful(source: PictureSource, condition: number, known: Box): PictureSide {
  const { model } = source;
  const { axes, domain } = model.conditions[condition]!;
  const side = sideOf(source, condition, withoutConditions(model, known, [condition]));
  if (domain.kind === "set") return side;
  const bands = new Set(side.parts.map(({ band }) => band));
  const axis = axes[0]!;
  const grouped =
    bands.has(undefined) || bands.size < 2
      ? side.parts
      : [...bands].map((band): PicturePart => mergedBand(side.parts.filter((part) => part.band === band)));
  let parts = grouped;
  while (parts.length > MOST_DOWN) {
    // The two neighbors that make the smallest stretch together.
    const size = (i: number): number => [i, i + 1].reduce((sum, at) => sum + count(parts[at]!.boxes[0]!.get(axis)!), 0);
    const at = parts.slice(0, -1).reduce((best, _, i) => (size(i) < size(best) ? i : best), 0);
    parts = [...parts.slice(0, at), mergedBand(parts.slice(at, at + 2)), ...parts.slice(at + 2)];
  }
  return { condition, parts, exact: side.exact && parts.length === side.parts.length };
}

/** Several parts as one, which is still a band where all of them are of it. */
function mergedBand(parts: readonly PicturePart[]): PicturePart {
  const band = parts[0]!.band;
  return { ...mergedPart(parts), ...(band !== undefined && parts.every((part) => part.band === band) && { band }) };
}

/** Indexes of the conditions a test goes by; a judgement that copies a condition stands for it. */
function conditionsOf(model: Model, test: Test | undefined): readonly number[] {
  return atomsOf(test).flatMap((atom) =>
    atom.kind === "axis" ? [model.axes[atom.axis]!.condition] : (model.picks[atom.pick]!.sameAs?.condition ?? []),
  );
}
