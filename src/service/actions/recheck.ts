/**
 * What would be wrong with a few picks of a changed book: the checks whose findings a fix may have to make go away, or must not bring
 * along. Which patterns do nothing, what is never recommended and the shares are not asked for.
 */
import { STEPS, type Analysis } from "../../analysis/analyse.js";
import { answering, type Answers, type Limits } from "../../analysis/answers.js";
import { budget, withinBudget } from "../../analysis/budget.js";
import { conflicts } from "../../analysis/checks/conflicts.js";
import type { Check, Context } from "../../analysis/checks/context.js";
import { gaps } from "../../analysis/checks/gaps.js";
import { holdsSomewhere } from "../../analysis/checks/idle.js";
import { hairlines } from "../../analysis/checks/hairlines.js";
import { brokenPromises } from "../../analysis/checks/promises.js";
import { setClashes } from "../../analysis/checks/set-clashes.js";
import { tossUps } from "../../analysis/checks/toss-ups.js";
import { waiting } from "../../analysis/checks/waiting.js";
import type { Code, Finding } from "../../diagnostics.js";
import type { Model, Test } from "../../model/model.js";
import { picksIn } from "../../model/atoms.js";
import type { Beside } from "./candidate.js";
import { focused } from "./focus.js";

export interface TrialLimits extends Beside {
  /** Steps of each analysis, as for `analyse`. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
}

export interface Rechecked {
  readonly findings: readonly Finding[];
  /** All of it was decided within the budget. */
  readonly decided: boolean;
  /** Whether a test holds at some possible point; undefined where it asks for a pick that was not looked at, or that takes too long. */
  applies(when: Test): boolean | undefined;
}

/** Errors may come from any of these; what only warns is looked at where it is what has to go. */
const always: readonly Check[] = [gaps, hairlines, conflicts, brokenPromises];
const warning: Partial<Record<Code, Check>> = { "toss-up": tossUps, "set-clash": setClashes, waiting };

/** In short pieces of work. `before`: what the analysis of the unchanged book knows is not worked out again. */
export function* rechecking(
  whole: Model,
  picks: ReadonlySet<number>,
  code: Code,
  before: Analysis | undefined,
  { steps = STEPS, interrupted }: TrialLimits,
): Generator<void, Rechecked> {
  const model = focused(whole, picks);
  const limits: Limits = { steps, interrupted };
  const answers = yield* answering(model, limits, before?.memory);
  const context: Context = { answers, model, limits, undecided: [] };
  const checks = [...always, ...(warning[code] ? [warning[code]] : [])];
  const findings: Finding[] = [];
  for (const check of answers.anythingPossible ? checks : [])
    for (const finding of check(context)) {
      if (finding) findings.push(finding);
      yield;
    }
  const seen = new Set(model.picks.filter((pick, index) => pick === whole.picks[index]).map(({ index }) => index));
  return {
    findings,
    applies: (when) => (picksIn(when).every((pick) => seen.has(pick)) ? canHold(answers, when) : undefined),
    decided: context.undecided.length === 0 && [...picks].every((pick) => answers.picks[pick] !== undefined),
  };
}

/** Steps for one test. */
const FEW_STEPS = 20_000;

/** Of a whole analysis: whether a test holds at some possible point; undefined where that takes too long. */
export function canHold(answers: Answers, when: Test): boolean | undefined {
  return withinBudget(() => holdsSomewhere(answers, answers.compile(when), budget(FEW_STEPS)));
}
