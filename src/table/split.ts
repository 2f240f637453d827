/**
 * From one diagram to few disjoint boxes: a tree of many-way splits, each on the condition that leaves the fewest rows.
 *
 *     diagram ──classes of each variable──▶   clarity: clear or stained │ dirty or muddy       positions no test tells apart
 *             ──same below? agree?────────▶   one branch where two classes have equal or agreeing diagrams
 *             ──fewest rows───────────────▶   every order of few variables is tried; of many, the one with the fewest paths below
 *
 * Fewest rows over all orders is dynamic programming over what is left of the diagram (as for optimal decision trees, Payne and
 * Meisel 1977). Where a point is impossible nothing is asked of a row, so two classes that differ only there share a branch.
 */
import type { Budget } from "../analysis/budget.js";
import { isFork, narrowed, type Box, type Fork, type Node } from "../analysis/diagrams/diagram.js";
import { union, type Span } from "../model/span.js";
import { classesOf } from "../analysis/diagrams/classes.js";
import { agreed, type Joint, type Together } from "../answer/joint.js";

export interface Piece {
  readonly box: Box;
  readonly outcomes: NonNullable<Together>;
}

interface Plan {
  readonly rows: number;
  readonly variable?: number;
  readonly branches: readonly Branch[];
}
interface Branch {
  readonly span: Span;
  readonly below: Node<Together>;
}

/** With this many variables left, every order is tried. */
const EVERY_ORDER = 6;
/** More classes than this are not tried pair by pair for agreement. */
const MOST_PAIRED = 24;

/**
 * Disjoint boxes that cover every possible point, each with one answer; undefined if more than `most` are needed. In short pieces of
 * work. Throws `OutOfBudget`.
 */
export function* splitting(joint: Joint, most: number, spend: Budget): Generator<void, readonly Piece[] | undefined> {
  const plans = new Map<number, Plan>();
  const paths = pathCounter();
  function* planFor(node: Node<Together>): Generator<void, Plan> {
    if (!isFork(node)) return { rows: node.leaf === undefined ? 0 : 1, branches: [] };
    let plan = plans.get(node.id);
    if (!plan) {
      spend.spend();
      yield;
      plan = yield* node.support.length <= EVERY_ORDER ? fewest(node) : greedy(node);
      plans.set(node.id, plan);
    }
    return plan;
  }
  function* rowsOf(branches: readonly Branch[]): Generator<void, number> {
    let rows = 0;
    for (const { below } of branches) rows += (yield* planFor(below)).rows;
    return rows;
  }
  function* fewest(node: Fork<Together>): Generator<void, Plan> {
    let best: Plan | undefined;
    for (const variable of node.support) {
      const branches = yield* joined(branchesOn(joint, node, variable));
      const rows = yield* rowsOf(branches);
      if (!best || rows < best.rows || (rows === best.rows && branches.length < best.branches.length)) best = { rows, variable, branches };
    }
    return best!;
  }
  function* greedy(node: Fork<Together>): Generator<void, Plan> {
    let chosen: { readonly variable: number; readonly branches: readonly Branch[] } | undefined;
    let least = Infinity;
    for (const variable of node.support) {
      const branches = branchesOn(joint, node, variable);
      const score = branches.reduce((sum, { below }) => sum + paths(below), 0);
      if (score < least) [least, chosen] = [score, { variable, branches }];
    }
    const branches = yield* joined(chosen!.branches);
    return { ...chosen!, branches, rows: yield* rowsOf(branches) };
  }
  // Branches whose diagrams agree at every possible point become one, where that saves rows.
  function* joined(branches: readonly Branch[]): Generator<void, readonly Branch[]> {
    if (branches.length > MOST_PAIRED) return branches;
    const list = [...branches];
    for (let i = 0; i < list.length; i++)
      for (let j = i + 1; j < list.length; j++) {
        const [a, b] = [list[i]!, list[j]!];
        const below = agreed(a.below, b.below, joint);
        const one = below && { span: union(a.span, b.span), below };
        if (!one || (yield* rowsOf([one])) >= (yield* rowsOf([a, b]))) continue;
        list[i] = one;
        list.splice(j, 1);
        j = i;
      }
    return list;
  }

  if ((yield* planFor(joint.node)).rows > most) return undefined;
  const pieces: Piece[] = [];
  const write = (node: Node<Together>, box: Box): void => {
    if (!isFork(node)) {
      if (node.leaf) pieces.push({ box, outcomes: node.leaf });
      return;
    }
    const { variable, branches } = plans.get(node.id)!;
    for (const { span, below } of branches) write(below, narrowed(box, variable!, span));
  };
  write(joint.node, new Map());
  return pieces;
}

/** One branch per distinct diagram below; classes that are impossible throughout go with a neighbour. */
function branchesOn(joint: Joint, node: Fork<Together>, variable: number): readonly Branch[] {
  const byBelow = new Map<number, { span: Span; readonly below: Node<Together> }>();
  let idle: Span = [];
  for (const span of classesOf(node, variable, joint.variables.size(variable))) {
    const below = joint.forest.restrict(node, variable, span);
    if (!isFork(below) && below.leaf === undefined) {
      idle = union(idle, span);
      continue;
    }
    const known = byBelow.get(below.id);
    if (known) known.span = union(known.span, span);
    else byBelow.set(below.id, { span, below });
  }
  const branches = [...byBelow.values()];
  for (let i = 0; i < idle.length; i += 2) {
    const [from, to] = [idle[i]!, idle[i + 1]!];
    const neighbour =
      branches.find(({ span }) => span.includes(from - 1)) ?? branches.find(({ span }) => span.includes(to + 1)) ?? branches[0]!;
    neighbour.span = union(neighbour.span, [from, to]);
  }
  return branches;
}

/** How many boxes a diagram has as it stands: no fewer than its best tree has rows. */
function pathCounter(): (node: Node<Together>) => number {
  const known = new Map<number, number>();
  const count = (node: Node<Together>): number => {
    if (!isFork(node)) return node.leaf === undefined ? 0 : 1;
    let paths = known.get(node.id);
    if (paths === undefined) known.set(node.id, (paths = count(node.yes) + count(node.no)));
    return paths;
  };
  return count;
}
