/**
 * Exact weights of the leaves of many diagrams that share subdiagrams, each subdiagram weighed once.
 *
 *     a ──▶ { colorado: 12, willow: 4 }      over the variables the node tests, here or below; a leaf that only single values of a
 *     b ──▶ { colorado: 8,  gap: 0 }         continuous measure reach is listed with weight 0, one that nothing reaches is not
 *
 * What is remembered lives as long as the weigher, and only limits on a variable that is tested again below are carried down.
 */
import { isFork, sidesIn, spanIn, type Box, type Node, type Variables } from "./diagram.js";
import type { Budget } from "../budget.js";

export interface Weigher<L> {
  /** Weights over `over`, which holds the node's support. */
  weigh(node: Node<L>, over: readonly number[]): ReadonlyMap<L, bigint>;
}

/** `box`: limits that hold throughout. The budget is spent once per subdiagram. */
export function weigher<L>(variables: Variables, box: Box, spend: Budget): Weigher<L> {
  const known = new Map<string, ReadonlyMap<L, bigint>>();
  const free = (before: readonly number[], after: readonly number[], limits: Box, but: number): bigint => {
    let product = 1n;
    for (const variable of before)
      if (variable !== but && !after.includes(variable)) product *= variables.weight(variable, spanIn(limits, variable, variables));
    return product;
  };
  const walk = (node: Node<L>, limits: Box): ReadonlyMap<L, bigint> => {
    if (!isFork(node)) return new Map([[node.leaf, 1n]]);
    let key = String(node.id);
    for (const [variable, span] of limits) if (node.support.includes(variable)) key += `|${variable}:${span.join(",")}`;
    const found = known.get(key);
    if (found) return found;
    spend.spend();
    const sums = new Map<L, bigint>();
    for (const [side, span] of sidesIn(node, limits, variables)) {
      // The tested variable weighs here unless it is tested again below.
      const again = side.support.includes(node.variable);
      const inner = again ? new Map(limits).set(node.variable, span) : limits;
      const factor = (again ? 1n : variables.weight(node.variable, span)) * free(node.support, side.support, limits, node.variable);
      for (const [leaf, weight] of walk(side, inner)) sums.set(leaf, (sums.get(leaf) ?? 0n) + weight * factor);
    }
    known.set(key, sums);
    return sums;
  };
  return {
    weigh(node, over) {
      const factor = free(over, node.support, box, -1);
      return new Map([...walk(node, box)].map(([leaf, weight]) => [leaf, weight * factor]));
    },
  };
}
