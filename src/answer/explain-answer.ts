/**
 * Why an answer is what it is, where something may be unknown.
 *
 *     { clarity: muddy, cover: grass } ──answer──▶ settled picks ──▶ explained at one point that agrees with what is given; what nobody
 *                                         │                           gave, or not exactly, is taken there as it might be, and named
 *                                         └──────▶ open picks ────▶ what is possible, and what to ask
 *
 * What is recommended comes before what is only judged.
 */
import { toTheEnd } from "../analysis/budget.js";
import type { Example } from "../diagnostics.js";
import type { Model } from "../model/model.js";
import { judgementsLast, type Answered, type PickAnswered } from "./answer.js";
import { explaining, type PickExplained } from "./explain.js";
import { exactValues } from "./given.js";

export interface AnswerExplained {
  readonly answered: Answered;
  /** Values of the point that was explained which were not given; `roughly`: something was, but not one value. */
  readonly taken: Example;
  readonly roughly: boolean;
  readonly settled: readonly PickExplained[];
  readonly open: readonly PickAnswered[];
}

export function explainAnswer(model: Model, answered: Answered): AnswerExplained {
  return toTheEnd(explainingAnswer(model, answered));
}

/** The same, in short pieces of work. */
export function* explainingAnswer(model: Model, answered: Answered): Generator<void, AnswerExplained> {
  const exact = exactValues(model, answered.given);
  const explained = yield* explaining(model, answered.example, exact);
  const picks = judgementsLast(model, answered.picks).filter(({ shut }) => !shut);
  const taken = Object.entries(explained.point).filter(([name]) => !Object.hasOwn(exact, name));
  return {
    answered,
    taken: Object.fromEntries(taken),
    roughly: taken.some(([name]) => Object.hasOwn(answered.given.values, name)),
    settled: picks.flatMap(({ pick, outcome }) => (outcome === undefined ? [] : [explained.picks[pick]!])),
    open: picks.filter(({ outcome }) => outcome === undefined),
  };
}
