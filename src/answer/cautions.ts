/**
 * Cautions beside an answer.
 *
 *     caution when water-temp is below 50 °F         45 °F is given ──▶ sure        nothing is given ──▶ it may apply        60 °F ──▶ none
 *
 * One that only may hold, because something is unknown or unsettled, is shown too, marked so: leaving out
 * a warning is worse than one too many.
 */
import type { Answers } from "../analysis/answers.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { FAILS, HOLDS, type Mask } from "../analysis/diagrams/formula.js";
import type { Point } from "../analysis/outcome.js";
import { valueAt, type PickAnswer } from "../analysis/point.js";
import type { Caution, Model } from "../model/model.js";
import { valuesIn } from "./truth.js";

export interface Warning {
  readonly caution: Caution;
  /** False: whether it applies depends on something unknown or unsettled. */
  readonly sure: boolean;
}

/** At a point of which everything is known. */
export function cautionsAt(model: Model, point: Point, answers: readonly PickAnswer[]): readonly Warning[] {
  return model.cautions.flatMap((caution) => warning(caution, [valueAt(caution.when, point, (pick) => answers[pick]!.outcome)]));
}

/** Where only some limits are known. */
export function cautionsIn(answers: Answers, box: Box): readonly Warning[] {
  return answers.model.cautions.flatMap((caution) => {
    const values = valuesIn(answers, caution.when, box);
    // Undecided within the budget: it may apply.
    return values ? warning(caution, values) : [{ caution, sure: false }];
  });
}

function warning(caution: Caution, values: readonly Mask[]): readonly Warning[] {
  if (values.every((value) => value === FAILS)) return [];
  return [{ caution, sure: values.every((value) => value === HOLDS) }];
}
