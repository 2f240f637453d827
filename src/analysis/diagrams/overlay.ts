/**
 * Two diagrams over the same variables as one: at each point `combine` of their leaves.
 *
 *     old  clarity dirty+ ? colorado : willow ─┐
 *     new  wind > 10 ? indiana : willow ───────┴─▶  [colorado, indiana], [colorado, willow], …
 *
 * Bryant's apply (1986), for diagrams without a fixed order: the limits so far stand in for it.
 */
import { isFork, narrowed, spanIn, type Box, type Forest, type Fork, type Node, type Variables } from "./diagram.js";
import { intersect, isEmpty, spanKey, subtract, type Span } from "../../model/span.js";

/** What `combine` gives where two leaves cannot be told together. */
export const CLASH = Symbol("clash");

export interface OverlayOptions<A, L> {
  /** What to make of one diagram that is both; else it is gone through. */
  readonly alike?: (both: Node<A>) => Node<L>;
  /** Only inside this box. */
  readonly within?: Box;
}

/** `a` and `b` are of the forest `from`. Undefined as soon as `combine` finds a clash. Throws `OutOfBudget`. */
export function overlaid<A, L>(
  a: Node<A>,
  b: Node<A>,
  from: Forest<A>,
  made: Forest<L>,
  variables: Pick<Variables, "size">,
  combine: (a: A, b: A) => L | typeof CLASH,
  { alike, within = new Map() }: OverlayOptions<A, L> = {},
): Node<L> | undefined {
  const done = new Map<string, Node<L> | undefined>();
  const walk = (a: Node<A>, b: Node<A>, box: Box): Node<L> | undefined => {
    if (a === b && alike) return alike(a);
    if (!isFork(a) && !isFork(b)) {
      const leaf = combine(a.leaf, b.leaf);
      return leaf === CLASH ? undefined : made.leaf(leaf);
    }
    // A limit so far matters to whatever still tests its variable.
    const limits = [...box]
      .filter(([variable]) => a.support.includes(variable) || b.support.includes(variable))
      .map(([variable, span]) => `${variable}:${spanKey(span)}`)
      .sort();
    const key = `${a.id}|${b.id}#${limits.join(";")}`;
    if (done.has(key)) return done.get(key);
    const { variable, inside } = isFork(b) ? b : (a as Fork<A>);
    const domain = spanIn(box, variable, variables);
    const side = (span: Span): Node<L> | undefined =>
      walk(from.restrict(a, variable, span), from.restrict(b, variable, span), narrowed(box, variable, span));
    const [yes, no] = [intersect(domain, inside), subtract(domain, inside)];
    let result: Node<L> | undefined;
    if (isEmpty(yes)) result = side(no);
    else if (isEmpty(no)) result = side(yes);
    else {
      const first = side(yes);
      const second = first && side(no);
      result = first && second && made.fork(variable, yes, first, second);
    }
    done.set(key, result);
    return result;
  };
  return walk(a, b, within);
}
