/** Which leaves of a diagram some point of a box reaches, single values of a continuous measure included. */
import { isFork, narrowed, sidesIn, type Box, type Node, type Variables } from "./diagram.js";

export function reachedIn<L>(node: Node<L>, variables: Pick<Variables, "size">, box: Box): ReadonlySet<L> {
  const found = new Set<L>();
  const seen = new Set<string>();
  const walk = (at: Node<L>, box: Box): void => {
    if (!isFork(at)) {
      found.add(at.leaf);
      return;
    }
    const key = `${at.id}|${at.support.map((variable) => box.get(variable)?.join(",") ?? "").join("|")}`;
    if (seen.has(key)) return;
    seen.add(key);
    for (const [side, span] of sidesIn(at, box, variables)) walk(side, narrowed(box, at.variable, span));
  };
  walk(node, box);
  return found;
}
