/**
 * Several picks' answers as one diagram over the axes.
 *
 *     blade:  clarity ∈ dirty+ ? colorado : willow ─┐
 *     weight: wind > 10 ? 1/2 oz : 3/8 oz ──────────┴─▶  leaves [colorado, 1/2 oz], [colorado, 3/8 oz], … and, where no point is
 *                                                        possible, no answer at all: whatever suits a table best may stand there
 */
import { findPossible, outcomeKey, verdictKey, type Answers } from "../analysis/answers.js";
import type { Budget } from "../analysis/budget.js";
import { forest, isFork, mapLeaves, narrowed, spanIn, type Box, type Forest, type Node, type Variables } from "../analysis/diagram.js";
import type { Outcome } from "../analysis/outcome.js";
import type { Verdict } from "../analysis/verdict.js";
import { intersect, isEmpty, subtract } from "../model/span.js";

/** One outcome per pick; undefined: no such point is possible. */
export type Together = readonly Outcome[] | undefined;

export interface Joint {
  readonly node: Node<Together>;
  readonly forest: Forest<Together>;
  readonly variables: Variables;
}

export const togetherKey = (leaf: Together): string => (leaf === undefined ? "impossible" : leaf.map(outcomeKey).join("&"));

/** Throws `OutOfBudget`. Every pick must have its diagrams. */
export function together(answers: Answers, picks: readonly number[], spend: Budget): Joint {
  const made = forest<Together>(togetherKey, spend);
  const { variables } = answers;
  const possible = mapLeaves<number, Together>(answers.possible.node, made, (flag) => (flag === 1 ? [] : undefined));
  const node = picks.reduce<Node<Together>>(
    (whole, pick) => overlaid(mapLeaves<Outcome, Together>(answers.picks[pick]!.whole, made, (outcome) => [outcome]), whole, made, variables, (a, b) => a && b && [...b, ...a])!,
    possible,
  );
  return { node, forest: made, variables };
}

/** What one pick says over the axes and the picks it tests; `undefined` where nothing possible leads. Throws `OutOfBudget`. */
export function chained(answers: Answers, pick: number, spend: Budget): Node<Verdict | undefined> {
  const made = forest<Verdict | undefined>((leaf) => (leaf === undefined ? "impossible" : verdictKey(leaf)), spend);
  const walk = (at: Node<Verdict>, box: Box): Node<Verdict | undefined> => {
    if (!isFork(at)) {
      spend.spend();
      return made.leaf(findPossible(answers, box, spend) && at.leaf);
    }
    const domain = spanIn(box, at.variable, answers.variables);
    const [yes, no] = [intersect(domain, at.inside), subtract(domain, at.inside)];
    if (isEmpty(yes)) return walk(at.no, box);
    if (isEmpty(no)) return walk(at.yes, box);
    return made.fork(at.variable, yes, walk(at.yes, narrowed(box, at.variable, yes)), walk(at.no, narrowed(box, at.variable, no)));
  };
  return walk(answers.picks[pick]!.local, new Map());
}

/** The same with its answers alone, as a table is made of it. */
export function answered({ variables }: Answers, verdicts: Node<Verdict | undefined>, spend: Budget): Joint {
  const made = forest<Together>(togetherKey, spend);
  return { node: mapLeaves<Verdict | undefined, Together>(verdicts, made, (leaf) => leaf && [{ status: leaf.status, places: leaf.places }]), forest: made, variables };
}

/** What two diagrams that need not agree about impossible points say together inside a box; undefined if they differ at a possible one. */
export function agreed(a: Node<Together>, b: Node<Together>, joint: Joint, box: Box = new Map()): Node<Together> | undefined {
  return overlaid(a, b, joint.forest, joint.variables, (one, other) => {
    if (one === undefined || other === undefined) return one ?? other;
    return togetherKey(one) === togetherKey(other) ? one : CLASH;
  }, box);
}

const CLASH = Symbol("clash");

/** Both diagrams at once, leaf by leaf; undefined as soon as `combine` finds a clash. */
function overlaid(a: Node<Together>, b: Node<Together>, made: Forest<Together>, variables: Variables, combine: (a: Together, b: Together) => Together | typeof CLASH, within: Box = new Map()): Node<Together> | undefined {
  const done = new Map<string, Node<Together> | undefined>();
  const walk = (a: Node<Together>, b: Node<Together>, box: Box): Node<Together> | undefined => {
    if (!isFork(a) && !isFork(b)) {
      const leaf = combine(a.leaf, b.leaf);
      return leaf === CLASH ? undefined : made.leaf(leaf);
    }
    // A limit so far matters to whatever still tests its variable.
    const limits = [...box].filter(([variable]) => a.support.includes(variable) || b.support.includes(variable)).map(([variable, span]) => `${variable}:${span.join(",")}`).sort();
    const key = `${a.id}|${b.id}#${limits.join(";")}`;
    if (done.has(key)) return done.get(key);
    const { variable, inside } = isFork(b) ? b : (a as Extract<typeof a, { variable: number }>);
    const domain = spanIn(box, variable, variables);
    const side = (span: typeof domain): Node<Together> | undefined =>
      walk(made.restrict(a, variable, span), made.restrict(b, variable, span), narrowed(box, variable, span));
    const yes = intersect(domain, inside);
    const no = subtract(domain, inside);
    let result: Node<Together> | undefined;
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
