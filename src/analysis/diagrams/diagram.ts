/**
 * Decision diagrams with spans on their edges and no fixed order of variables.
 *
 *            clarity ∈ [2,3] ?
 *            yes /        \ no            A point walks down to the one leaf it has.
 *        grass ∈ [1,1] ?   leaf willow    Equal subdiagrams are one node (hash-consing), so what looks like
 *         yes /    \ no     ▲             a tree stays small; a node whose two sides are equal does not exist.
 *      conflict    colorado ┘
 *
 * Without a fixed order two diagrams of one function may differ, so equality proves, and inequality does not disprove, sameness:
 * all questions below are asked by walking boxes, never by comparing nodes. Ordered diagrams (Bryant 1986) would be canonical but
 * blow up on sparse rules of thumb.
 *
 * A box is a partial record from variables to spans; a variable it leaves out is unlimited.
 */
import { holds, intersect, isEmpty, same, spanKey, subtract, union, type Span } from "../../model/span.js";
import type { Budget } from "../budget.js";
import { chains, mixed } from "./chains.js";

export type Node<L> = Leaf<L> | Fork<L>;
interface Leaf<L> {
  readonly id: number;
  readonly leaf: L;
  readonly support: readonly number[];
}
export interface Fork<L> {
  readonly id: number;
  readonly variable: number;
  readonly inside: Span;
  readonly yes: Node<L>;
  readonly no: Node<L>;
  /** Variables tested here or below, rising. */
  readonly support: readonly number[];
}

export type Box = ReadonlyMap<number, Span>;

/** Sizes and weights of the variables a diagram tests. */
export interface Variables {
  size(variable: number): number;
  /** Whole-number weight of a span of the variable. */
  weight(variable: number, span: Span): bigint;
}

/** Makes nodes of one kind of leaf; nodes of different forests never meet except through `mapLeaves` and `compose`. */
export interface Forest<L> {
  leaf(leaf: L): Leaf<L>;
  fork(variable: number, inside: Span, yes: Node<L>, no: Node<L>): Node<L>;
  /** The diagram where the variable lies in `inside`. */
  restrict(node: Node<L>, variable: number, inside: Span): Node<L>;
  /** Charges its budget for work that makes no node. */
  spend(cost: number): void;
  /** What it has charged in all. */
  cost(): number;
}

export function forest<L>(keyOf: (leaf: L) => string, budget: Budget): Forest<L> {
  let charged = 0;
  const spend = (steps: number, cost: number): void => {
    charged += cost;
    budget.spend(steps, cost);
  };
  const leaves = new Map<string, Leaf<L>>();
  const forks: Fork<L>[] = [];
  const known = chains();
  /** By variable and span: what has been restricted to it, by its number. */
  const restricted = new Map<string, Map<number, Node<L>>>();
  let next = 0;
  const leaf = (value: L): Leaf<L> => {
    const key = keyOf(value);
    let node = leaves.get(key);
    if (!node) leaves.set(key, (node = { id: next++, leaf: value, support: [] }));
    return node;
  };
  const fork = (variable: number, inside: Span, yes: Node<L>, no: Node<L>): Node<L> => {
    if (yes === no) return yes;
    if (isEmpty(inside)) return no;
    // Neighbouring tests of one variable that lead to the same place are one test.
    if (isFork(no) && no.variable === variable) {
      if (no.yes === yes) return fork(variable, union(inside, no.inside), yes, no.no);
      if (no.no === yes) return fork(variable, subtract(no.inside, inside), no.yes, yes);
    }
    if (isFork(yes) && yes.variable === variable) {
      if (yes.no === no) return fork(variable, intersect(inside, yes.inside), yes.yes, no);
      if (yes.yes === no) return fork(variable, subtract(inside, yes.inside), yes.no, no);
    }
    const hash = mixed(Math.imul(variable, 31) ^ Math.imul(yes.id, 0x85ebca6b) ^ no.id, inside);
    const at = known.find(hash, (at) => {
      const other = forks[at]!;
      return other.yes === yes && other.no === no && other.variable === variable && same(other.inside, inside);
    });
    if (at !== undefined) return forks[at]!;
    spend(1, 1);
    const node = { id: next++, variable, inside, yes, no, support: together(variable, yes.support, no.support) };
    forks.push(node);
    known.push(hash);
    return node;
  };
  const restrict = (node: Node<L>, variable: number, inside: Span): Node<L> => {
    if (!isFork(node) || !node.support.includes(variable)) return node;
    const key = `${variable}|${spanKey(inside)}`;
    let done = restricted.get(key);
    if (!done) restricted.set(key, (done = new Map()));
    return restrictBelow(node, variable, inside, done);
  };
  const restrictBelow = (node: Node<L>, variable: number, inside: Span, done: Map<number, Node<L>>): Node<L> => {
    if (!isFork(node) || !node.support.includes(variable)) return node;
    let result = done.get(node.id);
    if (!result) {
      spend(0, 1);
      if (node.variable === variable) {
        const left = intersect(inside, node.inside);
        if (isEmpty(left)) result = restrictBelow(node.no, variable, inside, done);
        else if (same(left, inside)) result = restrictBelow(node.yes, variable, inside, done);
        else result = fork(variable, left, restrict(node.yes, variable, left), restrict(node.no, variable, subtract(inside, node.inside)));
      } else
        result = fork(
          node.variable,
          node.inside,
          restrictBelow(node.yes, variable, inside, done),
          restrictBelow(node.no, variable, inside, done),
        );
      done.set(node.id, result);
    }
    return result;
  };
  return { leaf, fork, restrict, spend: (cost) => spend(0, cost), cost: () => charged };
}

/** Two rising lists and one more item as one rising list; one of the two itself where it holds everything. */
function together(item: number, a: readonly number[], b: readonly number[]): readonly number[] {
  const merged: number[] = [];
  for (let i = 0, j = 0, used = false; i < a.length || j < b.length || !used;) {
    const next = Math.min(a[i] ?? Infinity, b[j] ?? Infinity, used ? Infinity : item);
    if (a[i] === next) i++;
    if (b[j] === next) j++;
    if (item === next) used = true;
    merged.push(next);
  }
  return merged.length === a.length ? a : merged.length === b.length ? b : merged;
}

export function isFork<L>(node: Node<L>): node is Fork<L> {
  return "variable" in node;
}

/** The leaf of one point (one position per variable). */
export function lookup<L>(node: Node<L>, point: (variable: number) => number): L {
  while (isFork(node)) node = holds(node.inside, point(node.variable)) ? node.yes : node.no;
  return node.leaf;
}

/** Every leaf that some box reaches, once each. */
export function leaves<L>(node: Node<L>): L[] {
  const seen = new Set<number>();
  const found: L[] = [];
  const walk = (at: Node<L>): void => {
    if (seen.has(at.id)) return;
    seen.add(at.id);
    if (isFork(at)) {
      walk(at.yes);
      walk(at.no);
    } else found.push(at.leaf);
  };
  walk(node);
  return found;
}

/** The same diagram with other leaves; sides that become equal fall together. */
export function mapLeaves<L, M>(node: Node<L>, target: Forest<M>, change: (leaf: L) => M, done = new Map<number, Node<M>>()): Node<M> {
  let result = done.get(node.id);
  if (!result) {
    result = isFork(node)
      ? target.fork(node.variable, node.inside, mapLeaves(node.yes, target, change, done), mapLeaves(node.no, target, change, done))
      : target.leaf(change(node.leaf));
    done.set(node.id, result);
  }
  return result;
}

/** The disjoint boxes that end in a wanted leaf, inside a given box. */
export function* boxes<L>(
  node: Node<L>,
  variables: Pick<Variables, "size">,
  wanted: (leaf: L) => boolean,
  box: Box = new Map(),
): Generator<{ readonly box: Box; readonly leaf: L }> {
  const hopeful = new Map<number, boolean>();
  function* walk(at: Node<L>, box: Box): Generator<{ readonly box: Box; readonly leaf: L }> {
    if (!reaches(at, wanted, hopeful)) return;
    if (isFork(at)) for (const [side, span] of sidesIn(at, box, variables)) yield* walk(side, narrowed(box, at.variable, span));
    else yield { box, leaf: at.leaf };
  }
  yield* walk(node, box);
}

/** Whether any way down, whatever the limits, ends in a wanted leaf. `known`: what has been told already of nodes, for one `wanted`. */
export function reaches<L>(node: Node<L>, wanted: (leaf: L) => boolean, known = new Map<number, boolean>()): boolean {
  let told = known.get(node.id);
  if (told === undefined)
    known.set(node.id, (told = isFork(node) ? reaches(node.yes, wanted, known) || reaches(node.no, wanted, known) : wanted(node.leaf)));
  return told;
}

/** The sides of a fork that some point of a box takes, each with what is left there of the fork's variable. */
export function sidesIn<L>(fork: Fork<L>, box: Box, sizes: Pick<Variables, "size">): readonly (readonly [side: Node<L>, span: Span])[] {
  const domain = spanIn(box, fork.variable, sizes);
  const [yes, no] = [intersect(domain, fork.inside), subtract(domain, fork.inside)];
  if (isEmpty(yes)) return [[fork.no, no]];
  if (isEmpty(no)) return [[fork.yes, yes]];
  return [
    [fork.yes, yes],
    [fork.no, no],
  ];
}

export function spanIn(box: Box, variable: number, sizes: Pick<Variables, "size">): Span {
  return box.get(variable) ?? [0, sizes.size(variable) - 1];
}

export function narrowed(box: Box, variable: number, span: Span): Box {
  return new Map(box).set(variable, span);
}

/** A diagram whose leaves are positions of the variable it stands for. */
export interface Input {
  readonly node: Node<number>;
  readonly forest: Forest<number>;
}
