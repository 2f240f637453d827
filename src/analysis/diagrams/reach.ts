/** Which leaves of a diagram some point of a box reaches, single values of a continuous measure included. */
import { isFork, narrowed, spanIn, type Box, type Node, type Variables } from "./diagram.js";
import { intersect, isEmpty, subtract } from "../../model/span.js";

export function reachedIn<L>(node: Node<L>, variables: Pick<Variables, "size">, box: Box): ReadonlySet<L> {
  const found = new Set<L>();
  const seen = new Set<string>();
  const sizes: Variables = { size: variables.size, weight: () => 1n };
  const walk = (at: Node<L>, box: Box): void => {
    if (!isFork(at)) {
      found.add(at.leaf);
      return;
    }
    const key = `${at.id}|${at.support.map((variable) => box.get(variable)?.join(",") ?? "").join("|")}`;
    if (seen.has(key)) return;
    seen.add(key);
    const domain = spanIn(box, at.variable, sizes);
    for (const [side, span] of [
      [at.yes, intersect(domain, at.inside)],
      [at.no, subtract(domain, at.inside)],
    ] as const)
      if (!isEmpty(span)) walk(side, narrowed(box, at.variable, span));
  };
  walk(node, box);
  return found;
}
