/** A pick that others ask about, as a column of their table. */
import type { Answers } from "../analysis/answers.js";
import type { Front } from "../analysis/point.js";

/** A tested pick as a variable of a table: its positions are `fronts`. */
export interface Tested {
  readonly pick: number;
  readonly variable: number;
  readonly fronts: readonly Front[];
}

/** A pick as a variable; undefined where its answers are undecided. */
export function testedBy(answers: Answers, pick: number): Tested | undefined {
  const known = answers.picks[pick];
  return known && { pick, variable: answers.pickVariable(pick), fronts: known.fronts };
}
