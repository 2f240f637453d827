/** What is left of a pick's answers once something is known. */
import { count } from "../model/span.js";
import type { Budget } from "../analysis/budget.js";
import type { Box, Variables } from "../analysis/diagrams/diagram.js";
import { weigher, type Weigher } from "../analysis/diagrams/weigher.js";
import type { Joint, Together } from "./joint.js";

/** A pick's diagram limited to what is known: known axes are gone from it. */
export interface Left extends Joint {
  readonly box: Box;
  readonly weights: Weigher<Together>;
}

export function leftOver(joint: Joint, known: Box, spend: Budget): Left {
  const node = [...known].reduce((at, [axis, span]) => joint.forest.restrict(at, axis, span), joint.node);
  // Limits that leave an axis open still count when weighing.
  const box: Box = new Map([...known].filter(([, span]) => count(span) > 1));
  const weights = weigher<Together>(joint.variables, box, spend);
  const total = [...weights.weigh(node, node.support)].reduce((sum, [leaf, weight]) => (leaf === undefined ? sum : sum + weight), 0n);
  if (total > 0n) return { ...joint, node, box, weights };
  // All that is left is single values of continuous measures: these count alike.
  const variables: Variables = { ...joint.variables, weight: (_, span) => BigInt(count(span)) };
  return { ...joint, variables, node, box, weights: weigher<Together>(variables, box, spend) };
}
