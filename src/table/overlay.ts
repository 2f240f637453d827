/**
 * Two diagrams over the same variables as one: at each point `combine` of their leaves.
 *
 *     old  clarity dirty+ ? colorado : willow ─┐
 *     new  wind > 10 ? indiana : willow ───────┴─▶  [colorado, indiana], [colorado, willow], …
 *
 * Bryant's apply (1986), for diagrams without a fixed order: the limits so far stand in for it.
 */
import { isFork, narrowed, spanIn, type Box, type Forest, type Fork, type Node, type Variables } from "../analysis/diagram.js";
import { intersect, isEmpty, spanKey, subtract, type Span } from "../model/span.js";

/** `a` and `b` are of the forest `from`. `alike`: what to make of one diagram that is both; else it is gone through. Throws `OutOfBudget`. */
export function overlaid<A, L>(a: Node<A>, b: Node<A>, from: Forest<A>, made: Forest<L>, variables: Pick<Variables, "size">, combine: (a: A, b: A) => L, alike?: (both: Node<A>) => Node<L>): Node<L> {
  const sizes: Variables = { size: variables.size, weight: () => 1n };
  const done = new Map<string, Node<L>>();
  const walk = (a: Node<A>, b: Node<A>, box: Box): Node<L> => {
    if (a === b && alike) return alike(a);
    if (!isFork(a) && !isFork(b)) return made.leaf(combine(a.leaf, b.leaf));
    const limits = [...box].filter(([variable]) => a.support.includes(variable) || b.support.includes(variable)).map(([variable, span]) => `${variable}:${spanKey(span)}`).sort();
    const key = `${a.id}|${b.id}#${limits.join(";")}`;
    let result = done.get(key);
    if (result) return result;
    const { variable, inside } = isFork(b) ? b : (a as Fork<A>);
    const domain = spanIn(box, variable, sizes);
    const side = (span: Span): Node<L> => walk(from.restrict(a, variable, span), from.restrict(b, variable, span), narrowed(box, variable, span));
    const [yes, no] = [intersect(domain, inside), subtract(domain, inside)];
    result = isEmpty(yes) ? side(no) : isEmpty(no) ? side(yes) : made.fork(variable, yes, side(yes), side(no));
    done.set(key, result);
    return result;
  };
  return walk(a, b, new Map());
}
