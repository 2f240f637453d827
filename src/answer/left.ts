/**
 * What is left of a pick's answers once something is known.
 *
 *     blade, of clarity and wind ──clarity muddy──▶ blade, of wind alone ──weighed──▶ round 3/4, leaf 1/4
 *
 * Limits that leave several positions, such as wind breeze or calm, stay beside the diagram as a box: they count when it is weighed.
 */
import Fraction from "fraction.js";
import type { Model } from "../model/model.js";
import { count } from "../model/span.js";
import type { Budget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { weigher, type Weigher } from "../analysis/diagrams/weigher.js";
import { singles } from "../analysis/singles.js";
import type { Outcome } from "../analysis/outcome.js";
import type { Joint, Together } from "./joint.js";

/** A pick's diagram limited to what is known: known axes are gone from it. */
export interface Left extends Joint {
  readonly box: Box;
  readonly weights: Weigher<Together>;
  /** All answers that some possible point has, each with its share. */
  readonly chances: ReadonlyMap<readonly Outcome[], Fraction>;
}

export function leftOver(model: Pick<Model, "axes">, joint: Joint, known: Box, spend: Budget): Left {
  const node = [...known].reduce((at, [axis, span]) => joint.forest.restrict(at, axis, span), joint.node);
  // Limits that leave an axis open still count when weighing.
  const box: Box = new Map([...known].filter(([, span]) => count(span) > 1));
  const reached = (weights: Weigher<Together>): ReadonlyMap<readonly Outcome[], bigint> =>
    new Map([...weights.weigh(node, node.support)].flatMap(([leaf, weight]) => (leaf === undefined ? [] : [[leaf, weight]])));
  const byLength = weigher<Together>(joint.variables, box, spend);
  const lengths = reached(byLength);
  if (sum(lengths) > 0n) return { ...joint, node, box, weights: byLength, chances: shared(lengths) };
  const { variables, leading } = singles(model, joint.variables);
  const weights = weigher<Together>(variables, box, spend);
  return { ...joint, variables, node, box, weights, chances: shared(leading(reached(weights))) };
}

function sum(weights: ReadonlyMap<unknown, bigint>): bigint {
  return [...weights.values()].reduce((total, weight) => total + weight, 0n);
}

function shared<L>(weights: ReadonlyMap<L, bigint>): ReadonlyMap<L, Fraction> {
  const total = sum(weights);
  return new Map([...weights].map(([leaf, weight]) => [leaf, new Fraction(weight, total)]));
}
