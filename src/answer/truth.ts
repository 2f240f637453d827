/**
 * Where a test holds, fails or is unsettled, as a diagram over the axes; of impossible points nothing is said.
 *
 *     sky is dark and blade is round  ──▶  sky dark? ── no ──▶ fails
 *                                             └─ yes ─ clarity muddy? (where blade is round) ──▶ holds, or fails
 *
 * And the boxes of such a diagram, for whoever writes conditions out: charts, JSON, SQL.
 */
import { amongPossible, type Answers } from "../analysis/answers.js";
import { budget, withinBudget, type Budget } from "../analysis/budget.js";
import { decide } from "../analysis/diagrams/decide.js";
import { boxes, forest, type Box, type Node } from "../analysis/diagrams/diagram.js";
import { oneBit, type Mask } from "../analysis/diagrams/formula.js";
import { reachedIn } from "../analysis/diagrams/reach.js";
import { mergedBoxes, overAxes } from "../analysis/diagrams/region.js";
import { picksIn } from "../model/atoms.js";
import type { Test } from "../model/model.js";

export interface TruthOptions {
  /** Impossible points are not left out. */
  readonly impossibleToo?: boolean;
  /** Tested picks stay variables of their own, and impossible points are not left out. */
  readonly chained?: boolean;
}

/** Leaves are `HOLDS`, `FAILS`, `WAITS`, `NO_ADVICE`. Undefined where it tests a pick whose answers are undecided. Throws `OutOfBudget`. */
export function truthOf(
  answers: Answers,
  test: Test | undefined,
  spend: Budget,
  options: TruthOptions = {},
): Node<Mask | undefined> | undefined {
  if (picksIn(test).some((pick) => !answers.picks[pick])) return undefined;
  const target = forest<Mask>(String, spend);
  const local = decide<Mask>(
    answers.store,
    {
      formulas: [answers.compile(test)],
      settle: ({ mask }) => (oneBit(mask(0)) ? { leaf: mask(0) } : { keep: [0], ask: [0], signature: "" }),
    },
    target,
    spend,
  );
  if (options.chained) return local;
  const whole = overAxes(answers, local, target);
  return options.impossibleToo ? whole : amongPossible(answers, whole, String, spend);
}

const STEPS = 200_000;

const known = new WeakMap<Answers, Map<Test | undefined, ReturnType<typeof truthOf>>>();

/** Every value that a test has at some possible point of a box; undefined where that is not decided. The diagram is made once per book. */
export function valuesIn(answers: Answers, test: Test | undefined, box: Box): readonly Mask[] | undefined {
  let truths = known.get(answers);
  if (!truths) known.set(answers, (truths = new Map()));
  if (!truths.has(test))
    truths.set(
      test,
      withinBudget(() => truthOf(answers, test, budget(STEPS))),
    );
  const truth = truths.get(test);
  return truth && [...reachedIn(truth, answers.variables, box)].filter((mask) => mask !== undefined);
}

/**
 * Disjoint boxes over the axes, and if `chained` over the picks it tests as well, where a test has a wanted value; impossible points are not cut out of them, which keeps them few.
 * Undefined where that needs more steps than there are, or the answers of a tested pick are undecided.
 */
export function boxesWhere(
  answers: Answers,
  test: Test | undefined,
  wanted: (mask: Mask) => boolean,
  chained = false,
): readonly Box[] | undefined {
  return withinBudget(() => {
    const truth = truthOf(answers, test, budget(STEPS), { impossibleToo: true, chained });
    return (
      truth &&
      mergedBoxes(
        [...boxes(truth, answers.variables, (mask) => mask !== undefined && wanted(mask))].map(({ box }) => box),
        answers.variables,
      )
    );
  });
}
