/**
 * The one question that settles most.
 *
 *     cover?   grass ──▶ leaf 1                       agreement, the chance that two points which agree with all that is known have
 *              none  ──▶ leaf 1/2, round 1/2          one answer: before 5/8, after 1/2 · 1 + 1/2 · 1/2 = 3/4, gained 1/8
 *
 * Asked is the condition whose reply can be expected to raise agreement most, added over the picks that still depend. Agreement is 1
 * just where a pick is settled, it is an exact fraction (Gini 1912; entropy, which it stands for, is not), and it does not let a
 * question that nearly ends the matter lose to one that quite ends a sliver of it, as counting only what is settled altogether would:
 * twenty days of closed season leave every reply about the water unsettled. Among equals the reply counts that is likeliest to leave
 * one answer. If nothing is gained by any one reply, as where an answer is "one or the other but not both", the first condition that
 * can change an answer at all is asked.
 *
 * What is filled from the sun or the moon nobody at the counter can tell: it is asked about only where nothing else helps. A day or a
 * time anyone can tell, but the tool mostly knows it, so it loses ties. Other ties go to the condition that stands first in the book;
 * a condition that can change nothing is never asked about.
 */
import Fraction from "fraction.js";
import { piecesWithin, withinBudget, type Budget } from "../analysis/budget.js";
import type { Node, Variables } from "../analysis/diagrams/diagram.js";
import type { Condition, Model } from "../model/model.js";
import { full, intersect, isEmpty, type Span } from "../model/span.js";
import type { Given } from "./given.js";
import { agreed, type Together } from "./joint.js";
import type { Left } from "./left.js";
import { classesOf } from "../analysis/diagrams/classes.js";

interface Worth {
  readonly condition: Condition;
  /** How much likelier agreement gets, added over the picks. */
  readonly gained: Fraction;
  /** How many picks the reply settles altogether, as can be expected. */
  readonly settled: Fraction;
}

/**
 * Index of the condition to ask about. `open`: the picks that still depend, each with what is left of its diagram. In short pieces of
 * work.
 */
export function* choosingQuestion(
  model: Model,
  open: readonly Left[],
  given: Given,
  fresh: () => Budget,
): Generator<void, number | undefined> {
  const unknown = given.unknown
    .map((index) => model.conditions[index]!)
    .filter(({ axes }) => open.some(({ node }) => axes.some((axis) => node.support.includes(axis))));
  const isFrom = (...sources: readonly Condition["filledFrom"][]) => unknown.filter(({ filledFrom }) => sources.includes(filledFrom));
  const askable = [[...isFrom(undefined), ...isFrom("date", "clock")], isFrom("sun", "moon")];
  for (const conditions of askable) {
    let best: Worth | undefined;
    for (const condition of conditions) {
      const worth = yield* piecesWithin(weighing(condition, open, fresh));
      if (worth && (!best || compare(worth, best) < 0)) best = worth;
    }
    if (best && (best.gained.compare(0) > 0 || best.settled.compare(0) > 0)) return best.condition.index;
  }
  for (const condition of askable.flat())
    for (const left of open) {
      if (canChange(condition, left, fresh)) return condition.index;
      yield;
    }
  return undefined;
}

/** Whether some two replies, all else alike, lead to different answers; true also where the budget does not do to tell. */
export function canChange(condition: Condition, left: Left, fresh: () => Budget): boolean {
  if (!condition.axes.some((axis) => left.node.support.includes(axis))) return false;
  return (
    withinBudget(() => {
      const [first, ...others] = replies(condition, left, fresh()).keys();
      // Impossible points agree with anything, so what two replies say together is held against the next.
      return others.reduce<Node<Together> | undefined>((both, reply) => both && agreed(both, reply, left, left.box), first) === undefined;
    }) ?? true
  );
}

/** Negative: a is the better question. */
function compare(a: Worth, b: Worth): number {
  return b.gained.compare(a.gained) || b.settled.compare(a.settled);
}

/** Throws `OutOfBudget` where there are too many different replies to weigh. */
function* weighing(condition: Condition, open: readonly Left[], fresh: () => Budget): Generator<void, Worth> {
  let settled = new Fraction(0);
  let gained = new Fraction(0);
  for (const left of open) {
    yield;
    const others = left.node.support.filter((variable) => !condition.axes.includes(variable));
    const before = summed(left.weights.weigh(left.node, left.node.support));
    let after = new Fraction(0);
    for (const [below, weight] of replies(condition, left, fresh())) {
      const weights = summed(left.weights.weigh(below, others));
      if (weights.total === 0n) continue;
      const share = new Fraction(weight * weights.total, before.total);
      if (weights.outcomes === 1) settled = settled.add(share);
      after = after.add(share.mul(agreement(weights)));
    }
    gained = gained.add(after.sub(agreement(before)));
  }
  return { condition, gained, settled };
}

/** What is left after each reply, equal ones together, with the weight of the replies. */
function replies(condition: Condition, { node, forest, box, variables }: Left, spend: Budget): ReadonlyMap<Node<Together>, bigint> {
  let found = new Map<Node<Together>, bigint>([[node, 1n]]);
  for (const axis of condition.axes) {
    if (!node.support.includes(axis)) continue;
    const next = new Map<Node<Together>, bigint>();
    for (const [at, weight] of found)
      for (const span of repliesOn(at, axis, box, variables)) {
        spend.spend();
        const below = forest.restrict(at, axis, span);
        next.set(below, (next.get(below) ?? 0n) + weight * variables.weight(axis, span));
      }
    found = next;
  }
  return found;
}

function repliesOn<L>(node: Node<L>, axis: number, box: Left["box"], variables: Variables): readonly Span[] {
  const domain = box.get(axis) ?? full(variables.size(axis));
  return classesOf(node, axis, variables.size(axis))
    .map((span) => intersect(span, domain))
    .filter((span) => !isEmpty(span));
}

interface Weights {
  readonly total: bigint;
  readonly squares: bigint;
  /** How many outcomes there are, those of single values included. */
  readonly outcomes: number;
}

function summed(weights: ReadonlyMap<Together, bigint>): Weights {
  const own = [...weights].flatMap(([leaf, weight]) => (leaf === undefined ? [] : [weight]));
  return {
    total: own.reduce((sum, weight) => sum + weight, 0n),
    squares: own.reduce((sum, weight) => sum + weight * weight, 0n),
    outcomes: own.length,
  };
}

/** The chance that two points drawn at random have one answer. */
function agreement({ total, squares }: Weights): Fraction {
  return new Fraction(squares, total * total);
}
