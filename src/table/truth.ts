/** Where a test holds, fails or is unsettled, as a diagram over the axes; of impossible points nothing is said. */
import { amongPossible, type Answers } from "../analysis/answers.js";
import type { Budget } from "../analysis/budget.js";
import { decide } from "../analysis/decide.js";
import { forest, type Node } from "../analysis/diagram.js";
import { oneBit, type Mask } from "../analysis/formula.js";
import { overAxes } from "../analysis/region.js";
import type { Test } from "../model/model.js";

export interface TruthOptions {
  /** Impossible points are not left out. */
  readonly impossibleToo?: boolean;
}

/** Leaves are `HOLDS`, `FAILS`, `WAITS`, `NO_ADVICE`. Undefined where it tests a pick whose answers are undecided. Throws `OutOfBudget`. */
export function truthOf(answers: Answers, test: Test | undefined, spend: Budget, options: TruthOptions = {}): Node<Mask | undefined> | undefined {
  if (picksIn(test).some((pick) => !answers.picks[pick])) return undefined;
  const target = forest<Mask>(String, spend);
  const local = decide<Mask>(answers.store, {
    formulas: [answers.compile(test)],
    settle: (mask) => (oneBit(mask(0)) ? { leaf: mask(0) } : { keep: [0], ask: [0], signature: "" }),
  }, target, spend);
  const whole = overAxes(answers, local, target);
  return options.impossibleToo ? whole : amongPossible(answers, whole, String, spend);
}

/** Indexes of the picks a test asks about. */
export function picksIn(test: Test | undefined): readonly number[] {
  if (!test) return [];
  if (test.kind === "pick") return [test.pick];
  if (test.kind === "not") return picksIn(test.part);
  return test.kind === "and" || test.kind === "or" ? [...new Set(test.parts.flatMap(picksIn))] : [];
}
