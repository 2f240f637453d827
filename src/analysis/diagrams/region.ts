/**
 * Where something is so: from a diagram that says 1 there to boxes, words, an exact share and one example.
 *
 *     local diagram of 0 and 1 ──boxes, merged──▶ words          ──composed, possible points only──▶ share, example
 */
import Fraction from "fraction.js";
import type { Example } from "../../diagnostics.js";
import { exampleOf } from "../../model/points.js";
import { count, holds, union } from "../../model/span.js";
import type { Budget } from "../budget.js";
import { amongPossible, findPossible, pointIn, weighedAmong, type Answers } from "../answers.js";
import {
  boxes,
  forest,
  isFork,
  mapLeaves,
  narrowed,
  reaches,
  sidesIn,
  type Box,
  type Forest,
  type Input,
  type Node,
  type Variables,
} from "./diagram.js";
import { compose } from "./compose.js";
import { heap } from "./heap.js";
import type { Point } from "../outcome.js";

export interface Region {
  /** Disjoint, over axes and tested picks, largest first; each holds a possible point. */
  readonly boxes: readonly Box[];
  /** Whether these are all; else there are too many, and they are the largest. The share is exact either way. */
  readonly whole: boolean;
  /** Exact share of all possible points. */
  readonly share: Fraction;
  readonly example: Example;
  /** Over the axes: all of it is possible and in the region. */
  readonly box: Box;
  /** A whole point in that box, which agrees with the example. */
  readonly point: Point;
}

export type Flags = Forest<number>;

export function flags(spend: Budget): Flags {
  return forest<number>(String, spend);
}

/** 1 where the leaf is wanted. */
export function flagged<L>(node: Node<L>, target: Flags, wanted: (leaf: L) => boolean): Node<number> {
  return mapLeaves(node, target, (leaf) => (wanted(leaf) ? 1 : 0));
}

/** 1 where every given diagram is 1. */
export function conjoined(nodes: readonly Node<number>[], target: Flags, variables: Variables): Node<number> {
  const first = nodes[0]!;
  return nodes.slice(1).reduce<Node<number>>((whole, node) => {
    // A variable of its own stands for "the diagram says 1".
    const inputs = new Map<number, Input>([[GATE, { node, forest: target }]]);
    return compose(target.fork(GATE, [1, 1], whole, target.leaf(0)), target, inputs, {
      ...variables,
      size: (variable) => (variable === GATE ? 2 : variables.size(variable)),
    });
  }, first);
}
const GATE = Number.MAX_SAFE_INTEGER;

/** A diagram over axes alone: every tested pick composed in. */
export function overAxes<L>(answers: Answers, node: Node<L>, target: Forest<L>): Node<L> {
  const axes = answers.model.axes.length;
  const inputs = new Map(
    node.support
      .filter((variable) => variable >= axes && variable !== GATE)
      .map((variable) => [variable, answers.picks[variable - axes]!.frontDiagram]),
  );
  return inputs.size === 0 ? node : compose(node, target, inputs, answers.variables);
}

/** Undefined where no possible point is in it. */
export function regionOf(answers: Answers, local: Node<number>, target: Flags, spend: Budget): Region | undefined {
  const whole = overAxes(answers, local, target);
  const found = exampleIn(answers, whole, spend);
  if (!found) return undefined;
  const all = someBoxes(answers, local, spend);
  const reachable = (all ?? largestBoxes(answers, local, spend)).filter((box) => findPossible(answers, box, spend) !== undefined);
  // Of too many the likeliest one at least is known.
  const shown = reachable.length > 0 ? mergedBoxes(reachable, answers.variables) : [found.box];
  return { boxes: bySize(answers, shown), whole: all !== undefined, ...found };
}

/** Boxes beyond which a region is shown by its largest. */
const MOST_BOXES = 2000;
const LARGEST = 100;

/** All boxes of the region; undefined: too many. */
function someBoxes(answers: Answers, local: Node<number>, spend: Budget): readonly Box[] | undefined {
  const found: Box[] = [];
  for (const { box } of boxes(local, answers.variables, (flag) => flag === 1)) {
    spend.spend(0, 1 + box.size);
    if (found.push(box) > MOST_BOXES) return undefined;
  }
  return found;
}

/** The largest boxes of the region, the largest first: a way down only gets smaller, so the largest way so far is gone on with. */
function largestBoxes(answers: Answers, local: Node<number>, spend: Budget): readonly Box[] {
  const found: Box[] = [];
  const hopeful = new Map<number, boolean>();
  const ways = heap<{ readonly at: Node<number>; readonly box: Box; readonly size: number }>((a, b) => b.size - a.size);
  ways.push({ at: local, box: new Map(), size: 1 });
  for (let looks = 0; looks < MOST_BOXES; looks++) {
    const way = ways.pop();
    if (!way || found.length === LARGEST) break;
    const { at, box } = way;
    spend.spend(0, 1 + box.size);
    if (!isFork(at)) found.push(box);
    else
      for (const [side, span] of sidesIn(at, box, answers.variables))
        if (reaches(side, (flag) => flag === 1, hopeful)) {
          const inner = narrowed(box, at.variable, span);
          ways.push({ at: side, box: inner, size: sizeOf(answers, inner) });
        }
  }
  return found;
}

/** Whether a box limits axes alone, all points are possible, and weights can tell them apart. */
export function isAllPossible({ model, possible, variables }: Answers, box: Box): boolean {
  return (
    !isFork(possible.node) &&
    possible.node.leaf === 1 &&
    [...box.keys()].every((variable) => variable < model.axes.length) &&
    model.axes.every(({ index, size }) => variables.weight(index, [0, size - 1]) > 0n)
  );
}

/** The region that is one such box: no diagram is needed. */
export function boxRegion(answers: Answers, box: Box): Region {
  const { model, variables } = answers;
  const point = pointIn(answers, box);
  let [inside, total] = [1n, 1n];
  for (const [variable, span] of box) {
    inside *= variables.weight(variable, span);
    total *= variables.weight(variable, [0, variables.size(variable) - 1]);
  }
  const tested = new Set([...box.keys()].map((variable) => model.axes[variable]!.condition));
  return { boxes: [box], whole: true, share: new Fraction(inside, total), box, point, example: exampleOf(model, point, tested) };
}

/** Share and example of a diagram over axes alone. */
function exampleIn(answers: Answers, whole: Node<number>, spend: Budget): Omit<Region, "boxes" | "whole"> | undefined {
  const among = amongPossible(answers, whole, String, spend);
  const box = likeliestBox(answers, among, (flag) => flag === 1);
  if (!box) return undefined;
  const { weights, total } = weighedAmong(answers, among, spend);
  const point = pointIn(answers, box);
  return {
    share: new Fraction(weights.get(1) ?? 0n, total),
    box,
    point,
    example: exampleOf(answers.model, point, conditionsTested(answers, whole, point)),
  };
}

/** The conditions a diagram looks at on the way to a point's leaf: whatever else varies, the leaf stays. */
function conditionsTested<L>(answers: Answers, node: Node<L>, point: Point): ReadonlySet<number> {
  const conditions = new Set<number>();
  while (isFork(node)) {
    conditions.add(answers.model.axes[node.variable]!.condition);
    node = holds(node.inside, point[node.variable]!) ? node.yes : node.no;
  }
  return conditions;
}

/**
 * A box that ends in a wanted leaf, as ordinary as can be: one of some weight if there is one, and of each test the wider side first, set
 * members being absent. Inside `within`, of a diagram over axes alone.
 */
export function likeliestBox<L>(answers: Answers, node: Node<L>, wanted: (leaf: L) => boolean, within: Box = new Map()): Box | undefined {
  const { variables } = answers;
  let thin: Box | undefined;
  const hopeful = new Map<number, boolean>();
  const dead = new Set<string>();
  const walk = (at: Node<L>, box: Box, weighty: boolean): Box | undefined => {
    if (!reaches(at, wanted, hopeful) || (thin && !weighty)) return undefined;
    if (!isFork(at)) {
      if (weighty) return box;
      thin = box;
      return undefined;
    }
    const key = `${at.id}|${weighty}|${at.support.map((variable) => box.get(variable)?.join(",") ?? "").join("|")}`;
    if (dead.has(key)) return undefined;
    const ordered = [...sidesIn(at, box, variables)].sort(([, a], [, b]) => heft(answers, at.variable, b) - heft(answers, at.variable, a));
    for (const [side, span] of ordered) {
      const found = walk(side, narrowed(box, at.variable, span), weighty && variables.weight(at.variable, span) > 0n);
      if (found) return found;
    }
    dead.add(key);
    return undefined;
  };
  return walk(node, within, true) ?? thin;
}

function heft(answers: Answers, variable: number, span: readonly number[]): number {
  const axis = answers.model.axes[variable]!;
  if (axis.member !== undefined) return span[0] === 0 ? 1 : 0;
  return Number(answers.variables.weight(variable, span));
}

/** Unites boxes that differ in one variable only, until none do. */
export function mergedBoxes(given: readonly Box[], sizes: Pick<Variables, "size">): readonly Box[] {
  let list = [...given];
  for (let changed = true; changed;) {
    changed = false;
    const variables = [...new Set(list.flatMap((box) => [...box.keys()]))].sort((a, b) => a - b);
    for (const variable of variables) {
      const groups = new Map<string, Box>();
      for (const box of list) {
        const rest = [...box].filter(([other]) => other !== variable).sort(([a], [b]) => a - b);
        const key = rest.map(([other, span]) => `${other}:${span.join(",")}`).join(";");
        const twin = groups.get(key);
        if (!twin) groups.set(key, box);
        else {
          changed = true;
          const merged = new Map(rest);
          const [a, b] = [twin.get(variable), box.get(variable)];
          if (a && b && count(union(a, b)) < sizes.size(variable)) merged.set(variable, union(a, b));
          groups.set(key, merged);
        }
      }
      list = [...groups.values()];
    }
  }
  return list;
}

function bySize(answers: Answers, list: readonly Box[]): readonly Box[] {
  return list
    .map((box) => ({ box, size: sizeOf(answers, box) }))
    .sort((a, b) => b.size - a.size)
    .map(({ box }) => box);
}

/** Part of everything, roughly where it limits picks. */
function sizeOf({ model, variables }: Answers, box: Box): number {
  let product = 1;
  for (const [variable, span] of box) {
    if (variable >= model.axes.length) product *= 0.5;
    else product *= Number(variables.weight(variable, span)) / Number(variables.weight(variable, [0, variables.size(variable) - 1]));
  }
  return product;
}
