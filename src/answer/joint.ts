/**
 * Several picks' answers as one diagram over the axes.
 *
 *     blade:  clarity ∈ dirty+ ? colorado : willow ─┐
 *     weight: wind > 10 ? 1/2 oz : 3/8 oz ──────────┴─▶  leaves [colorado, 1/2 oz], [colorado, 3/8 oz], … and, where no point is
 *                                                        possible, no answer at all: whatever suits a table best may stand there
 */
import { findPossible, outcomeKey, verdictKey, type Answers } from "../analysis/answers.js";
import { OutOfBudget, toTheEnd, type Budget } from "../analysis/budget.js";
import {
  forest,
  isFork,
  leaves,
  mapLeaves,
  narrowed,
  spanIn,
  type Box,
  type Forest,
  type Node,
  type Variables,
} from "../analysis/diagrams/diagram.js";
import type { Outcome } from "../analysis/outcome.js";
import type { Verdict } from "../analysis/verdict.js";
import { intersect, isEmpty, subtract } from "../model/span.js";
import { CLASH, overlaid } from "../analysis/diagrams/overlay.js";

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
  return toTheEnd(joining(answers, picks, spend));
}

/** The same, pick by pick. Throws `OutOfBudget` also where there are more than `most` different answers. */
export function* joining(answers: Answers, picks: readonly number[], spend: Budget, most = Infinity): Generator<void, Joint> {
  const made = forest<Together>(togetherKey, spend);
  const { variables } = answers;
  let node = mapLeaves<number, Together>(answers.possible.node, made, (flag) => (flag === 1 ? [] : undefined));
  for (const pick of picks) {
    yield;
    const own = mapLeaves<Outcome, Together>(answers.picks[pick]!.whole, made, (outcome) => [outcome]);
    node = overlaid<Together, Together>(own, node, made, made, variables, (a, b) => a && b && [...b, ...a])!;
    if (most < Infinity && leaves(node).length > most) throw new OutOfBudget();
  }
  return { node, forest: made, variables };
}

/**
 * What one pick says over the axes and the picks it tests; `undefined` where nothing possible leads. In short pieces of work. Throws
 * `OutOfBudget`.
 */
export function* chaining(answers: Answers, pick: number, spend: Budget): Generator<void, Node<Verdict | undefined>> {
  const made = forest<Verdict | undefined>((leaf) => (leaf === undefined ? "impossible" : verdictKey(leaf)), spend);
  function* walk(at: Node<Verdict>, box: Box): Generator<void, Node<Verdict | undefined>> {
    if (!isFork(at)) {
      spend.spend();
      yield;
      return made.leaf(findPossible(answers, box, spend) && at.leaf);
    }
    const domain = spanIn(box, at.variable, answers.variables);
    const [yes, no] = [intersect(domain, at.inside), subtract(domain, at.inside)];
    if (isEmpty(yes)) return yield* walk(at.no, box);
    if (isEmpty(no)) return yield* walk(at.yes, box);
    const first = yield* walk(at.yes, narrowed(box, at.variable, yes));
    return made.fork(at.variable, yes, first, yield* walk(at.no, narrowed(box, at.variable, no)));
  }
  return yield* walk(answers.picks[pick]!.local, new Map());
}

/** The same with its answers alone, as a table is made of it. */
export function answered({ variables }: Answers, verdicts: Node<Verdict | undefined>, spend: Budget): Joint {
  const made = forest<Together>(togetherKey, spend);
  return {
    node: mapLeaves<Verdict | undefined, Together>(verdicts, made, (leaf) => leaf && [{ status: leaf.status, places: leaf.places }]),
    forest: made,
    variables,
  };
}

/** What two diagrams that need not agree about impossible points say together inside a box; undefined if they differ at a possible one. */
export function agreed(a: Node<Together>, b: Node<Together>, joint: Joint, box: Box = new Map()): Node<Together> | undefined {
  return overlaid<Together, Together>(
    a,
    b,
    joint.forest,
    joint.forest,
    joint.variables,
    (one, other) => {
      if (one === undefined || other === undefined) return one ?? other;
      return togetherKey(one) === togetherKey(other) ? one : CLASH;
    },
    { within: box },
  );
}
