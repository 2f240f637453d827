/**
 * Cautions beside an answer.
 *
 *     caution when water-temp is below 50 °F         45 °F is given ──▶ sure        nothing is given ──▶ it may apply        60 °F ──▶ none
 *
 * One that only may hold, because something is unknown or unsettled, is shown too, marked so: leaving out
 * a warning is worse than one too many.
 */
import type { Answers } from "../analysis/answers.js";
import { budget, withinBudget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { FAILS, HOLDS, type Mask } from "../analysis/diagrams/formula.js";
import type { Point } from "../analysis/outcome.js";
import { valueAt, type PickAnswer } from "../analysis/point.js";
import type { Caution, Model } from "../model/model.js";
import { reachedIn } from "../analysis/diagrams/reach.js";
import { truthOf } from "./truth.js";

export interface Warning {
  readonly caution: Caution;
  /** False: whether it applies depends on something unknown or unsettled. */
  readonly sure: boolean;
}

const STEPS = 200_000;

/** At a point of which everything is known. */
export function cautionsAt(model: Model, point: Point, answers: readonly PickAnswer[]): readonly Warning[] {
  return model.cautions.flatMap((caution) => warning(caution, [valueAt(caution.when, point, (pick) => answers[pick]!.outcome)]));
}

/** Where only some limits are known. */
export function cautionsIn(answers: Answers, box: Box): readonly Warning[] {
  return answers.model.cautions.flatMap((caution) => {
    const truth = cautionTruth(answers, caution);
    const values = truth && [...reachedIn(truth, answers.variables, box)].filter((mask) => mask !== undefined);
    // Undecided within the budget: it may apply.
    return values ? warning(caution, values) : [{ caution, sure: false }];
  });
}

type Truth = ReturnType<typeof truthOf>;
const known = new WeakMap<Answers, Map<Caution, Truth>>();

/** Worked out once per book. */
function cautionTruth(answers: Answers, caution: Caution): Truth {
  let truths = known.get(answers);
  if (!truths) known.set(answers, (truths = new Map()));
  if (!truths.has(caution))
    truths.set(
      caution,
      withinBudget(() => truthOf(answers, caution.when, budget(STEPS))),
    );
  return truths.get(caution);
}

function warning(caution: Caution, values: readonly Mask[]): readonly Warning[] {
  if (values.every((value) => value === FAILS)) return [];
  return [{ caution, sure: values.every((value) => value === HOLDS) }];
}
