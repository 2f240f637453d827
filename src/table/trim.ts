/**
 * Limits without the values at which everything is closed: whoever reads "below 8 in" must not go out on 2.
 *
 *     ice below 8 in      ──closed below 4 in──▶      ice 4 in to 8 in
 *
 * A limit that is not there names no value, and stays away.
 */
import { findPossible } from "../analysis/answers.js";
import type { Budget } from "../analysis/budget.js";
import { classesOf } from "../analysis/diagrams/classes.js";
import { narrowed, type Box, type Node } from "../analysis/diagrams/diagram.js";
import { intersect, isEmpty, subtract } from "../model/span.js";
import type { OpenAnswers } from "../answer/closed.js";

/** A box of the pick's open points: its limits on axes without values at which every point of it is closed. Throws `OutOfBudget`. */
export function trimmed(answers: OpenAnswers, box: Box, spend: Budget): Box {
  const { shut, possible, variables, model } = answers;
  if (!shut) return box;
  const shutAnswers = { ...answers, possible: shut };
  const tested = [...box.keys()].flatMap((variable) => answers.picks[variable - model.axes.length]?.frontDiagram.node ?? []);
  const nodes: readonly Node<number>[] = [possible.node, shut.node, ...tested];
  let left = box;
  for (const [variable, span] of box) {
    if (variable >= model.axes.length) continue;
    const parts = nodes.reduce(
      (some, node) =>
        classesOf(node, variable, variables.size(variable)).flatMap((part) =>
          some.map((one) => intersect(one, part)).filter((one) => !isEmpty(one)),
        ),
      [span],
    );
    for (const part of parts) {
      const here = narrowed(left, variable, part);
      if (!findPossible(answers, here, spend) && findPossible(shutAnswers, here, spend))
        left = narrowed(left, variable, subtract(left.get(variable)!, part));
    }
  }
  return left;
}
