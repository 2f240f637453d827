/**
 * Diagrams in the place of variables: wherever one tests a variable that an input stands for, the input's leaf decides.
 *
 *     blade:  family ∈ [1,1] ? leaf : round ─┐
 *     family: clarity ∈ [2,3] ? 1 : 0 ───────┴─▶  clarity ∈ [2,3] ? leaf : round
 *
 * The parts are gone through as their own tests come, which suits rules of thumb that each look at little. Where many look at much, that
 * has no end: then all variables are gone through in one order, those of few positions first. What is left of the parts then names the
 * sub-problem, and equal functions are one node (Bryant 1986).
 */
import { holds, intersect, isEmpty, spanKey, subtract, type Span } from "../../model/span.js";
import { isFork, narrowed, spanIn, type Box, type Forest, type Input, type Node, type Variables } from "./diagram.js";

type Inputs = ReadonlyMap<number, Input>;

/**
 * `node` where each variable that `inputs` names is what the input's leaf says. The result tests only the other variables. `few`: so many
 * sub-problems are gone through as they come.
 */
export function compose<L>(node: Node<L>, target: Forest<L>, inputs: Inputs, variables: Variables, few = FEW): Node<L> {
  const open = new Map(
    [...inputs].filter(([variable, { node: input }]) => {
      if (!isFork(input)) node = target.restrict(node, variable, [input.leaf, input.leaf]);
      return isFork(input);
    }),
  );
  if (!node.support.some((variable) => open.has(variable))) return node;
  const done = new Map<string, Node<L>>();
  return (
    asTheyCome(node, target, open, variables, done, few) ??
    inOneOrder(node, target, open, variables) ??
    asTheyCome(node, target, open, variables, done, Infinity)!
  );
}

/** Sub-problems that are few. */
const FEW = 1000;
/** Inputs are small beside what they are put into if it has so many times their nodes: its own order is best then. */
const SMALL = 8;
/** An order is good if it costs no more than this for every node of the parts. */
const COST_PER_NODE = 16;

/** Undefined: the order is no good. */
function inOneOrder<L>(node: Node<L>, target: Forest<L>, inputs: Inputs, variables: Variables): Node<L> | undefined {
  const put = node.support.flatMap((variable) => inputs.get(variable)?.node ?? []);
  const [own, others] = [nodesOf([node]), nodesOf(put)];
  if (others * SMALL < own) return undefined;
  const most = target.cost() + COST_PER_NODE * (FEW + own + others);
  const order = [...new Set([node, ...put].flatMap(({ support }) => support.filter((variable) => !inputs.has(variable))))].sort(
    (a, b) => variables.size(a) - variables.size(b) || a - b,
  );
  const rank = new Map(order.map((variable, at) => [variable, at]));
  const firstOf = (part: Node<unknown>, most: number): number =>
    part.support.reduce((first, variable) => Math.min(first, rank.get(variable) ?? first), most);
  const done = new Map<number, Node<L>>();
  const numbered = pairs();
  /** `left`: what is left of each input whose variable may still be tested. */
  const walk = (at: Node<L>, left: Inputs): Node<L> | undefined => {
    const open = new Map<number, Input>();
    for (const [variable, input] of left) {
      if (!at.support.includes(variable)) continue;
      if (isFork(input.node)) open.set(variable, input);
      else at = target.restrict(at, variable, [input.node.leaf, input.node.leaf]);
    }
    if (!isFork(at)) return at;
    let key = at.id;
    let first = firstOf(at, order.length);
    for (const [variable, { node: input }] of open) {
      if (!at.support.includes(variable)) open.delete(variable);
      else [key, first] = [numbered(key, input.id), firstOf(input, first)];
    }
    let result = done.get(key);
    if (result) return result;
    if (target.cost() > most) return undefined;
    target.spend(1 + open.size);
    const variable = order[first]!;
    const ends = stretches(variable, variables.size(variable), [at, ...[...open.values()].map(({ node }) => node)]);
    // From the last stretch to the first: each is what lies below its end, and not below the one before.
    for (let i = ends.length - 1; i >= 0; i--) {
      const position = ends[i]!;
      const inner = new Map(
        [...open].map(([pick, { node, forest }]) => [pick, { node: nodeAt(forest, node, variable, position), forest }]),
      );
      const side = walk(nodeAt(target, at, variable, position), inner);
      if (!side) return undefined;
      result = result ? target.fork(variable, [0, position], side, result) : side;
    }
    done.set(key, result!);
    return result;
  };
  return walk(node, inputs);
}

/** Numbers pairs of a number and a node's; none is ever a node's. */
function pairs(): (a: number, id: number) => number {
  const known = new Map<number, number>();
  return (a, id) => {
    const key = a * 2 ** 26 + id;
    let pair = known.get(key);
    if (pair === undefined) known.set(key, (pair = -1 - known.size));
    return pair;
  };
}

/** What a diagram is where a variable has one position. */
function nodeAt<L>(forest: Forest<L>, node: Node<L>, variable: number, position: number): Node<L> {
  while (isFork(node) && node.variable === variable) node = holds(node.inside, position) ? node.yes : node.no;
  return forest.restrict(node, variable, [position, position]);
}

/** The last positions of the stretches of a variable in which no diagram tells two positions apart, rising. */
function stretches(variable: number, size: number, nodes: readonly Node<unknown>[]): Int32Array {
  const ends = new Set([size - 1]);
  for (const node of nodes) {
    const seen = new Set<number>();
    const walk = (at: Node<unknown>): void => {
      if (!isFork(at) || seen.has(at.id) || !at.support.includes(variable)) return;
      seen.add(at.id);
      if (at.variable === variable)
        for (let i = 0; i < at.inside.length; i += 2) {
          if (at.inside[i]! > 0) ends.add(at.inside[i]! - 1);
          ends.add(at.inside[i + 1]!);
        }
      walk(at.yes);
      walk(at.no);
    };
    walk(node);
  }
  return Int32Array.from(ends).sort();
}

/** `done`: what is known of sub-problems. Undefined: there are more than `most`. */
function asTheyCome<L>(
  node: Node<L>,
  target: Forest<L>,
  inputs: Inputs,
  variables: Variables,
  done: Map<string, Node<L>>,
  most: number,
): Node<L> | undefined {
  const walk = (at: Node<L>, state: ReadonlyMap<number, Node<number>>, box: Box): Node<L> | undefined => {
    if (!isFork(at)) return at;
    const needed = at.support.filter((variable) => state.has(variable));
    if (needed.length === 0) return at;
    const parts: readonly Node<unknown>[] = [at, ...needed.map((variable) => state.get(variable)!)];
    // The limits so far matter to whatever still tests their variable.
    let key = "";
    for (const part of parts) key += `${part.id}|`;
    for (const [variable, span] of box) if (parts.some((part) => part.support.includes(variable))) key += `#${variable}:${spanKey(span)}`;
    let result = done.get(key);
    if (result) return result;
    if (done.size >= most) return undefined;
    target.spend(parts.length + box.size);
    const input = state.get(at.variable);
    if (input && !isFork(input)) result = walk(holds(at.inside, input.leaf) ? at.yes : at.no, state, box);
    else {
      const test = input ?? at;
      const domain = spanIn(box, test.variable, variables);
      const side = (inside: Span): Node<L> | undefined => {
        const inner = new Map(
          needed.map((variable) => [variable, inputs.get(variable)!.forest.restrict(state.get(variable)!, test.variable, inside)]),
        );
        return walk(target.restrict(at, test.variable, inside), inner, narrowed(box, test.variable, inside));
      };
      const yes = intersect(domain, test.inside);
      const no = subtract(domain, test.inside);
      if (isEmpty(yes)) result = side(no);
      else if (isEmpty(no)) result = side(yes);
      else {
        const first = side(yes);
        const second = first && side(no);
        result = first && second && target.fork(test.variable, yes, first, second);
      }
    }
    if (result) done.set(key, result);
    return result;
  };
  return walk(node, new Map([...inputs].map(([variable, input]) => [variable, input.node])), new Map());
}

function nodesOf(nodes: readonly Node<unknown>[]): number {
  let count = 0;
  for (const node of nodes) {
    const seen = new Set<number>();
    const walk = (at: Node<unknown>): void => {
      if (seen.has(at.id)) return;
      seen.add(at.id);
      if (!isFork(at)) return;
      walk(at.yes);
      walk(at.no);
    };
    walk(node);
    count += seen.size;
  }
  return count;
}
