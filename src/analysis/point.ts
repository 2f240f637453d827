/** Direct evaluation: what every pick says at one point. Slow and plain; the diagrams must agree with it everywhere. */
import type { Model, Pick, Test } from "../model/model.js";
import { holds, type Span } from "../model/span.js";
import { budget } from "./budget.js";
import { FAILS, HOLDS, NO_ADVICE, WAITS, type Mask } from "./diagrams/formula.js";
import type { Outcome, Point } from "./outcome.js";
import { pickRules, whens, type PickRules, type Whens } from "./rules.js";
import { silencedBook, verdict, type Situation, type Verdict, type Yield } from "./verdict.js";

export interface PickAnswer {
  readonly outcome: Outcome;
  readonly verdict: Verdict;
  /** Indexes of the patterns whose go withs stand. */
  readonly standing: readonly number[];
  readonly situation: Situation;
  /** Which applicable patterns yielded to which, and by which rule (places in `rules`). */
  readonly yields: readonly Yield[];
  readonly rules: PickRules;
}

/** What comparing `when`s may cost; a book that needs more is beyond the checker too. */
const WHENS_COST = 3_000_000;

export interface Prepared {
  readonly whens: Whens;
  readonly rules: readonly PickRules[];
}
const preparedModels = new WeakMap<Model, Prepared>();

/** What is known of a model's patterns before any point: made once per model. */
export function prepared(model: Model): Prepared {
  let known = preparedModels.get(model);
  if (!known) {
    const about = whens(model, budget(WHENS_COST));
    known = { whens: about, rules: model.picks.map((pick) => pickRules(model, pick, about)) };
    preparedModels.set(model, known);
  }
  return known;
}

/** Every pick's answer at a possible point, in the order of `model.picks`. */
export function answersAt(model: Model, point: Point): readonly PickAnswer[] {
  const answers: PickAnswer[] = [];
  const value = (test: Test | undefined): Mask => valueAt(test, point, (pick) => answers[pick]!.outcome);
  for (const rules of prepared(model).rules) {
    const situation = situationAt(rules, point, value);
    const yields: Yield[] = [];
    const result = verdict(rules, situation, silencedBook(rules, situation, model.moreLocal), (yielded) => yields.push(yielded));
    answers.push({
      outcome: { status: result.status, places: result.places },
      verdict: result,
      standing: result.standing.map((at) => rules.rules[at]!.pattern.index),
      situation,
      yields,
      rules,
    });
  }
  return answers;
}

export function situationAt(rules: PickRules, point: Point, value: (test: Test | undefined) => Mask): Situation {
  const { pick } = rules;
  const whens = new Map<number, Mask>();
  for (const rule of rules.rules) whens.set(rule.at, value(rule.pattern.when));
  return {
    gate: value(pick.onlyWhen),
    silences: pick.sayNothing.map((silence) => value(silence.when)),
    whens,
    copy: copyAt(pick, point),
  };
}

function copyAt(pick: Pick, point: Point): number | undefined {
  if (!pick.sameAs) return undefined;
  const position = point[pick.sameAs.axis]!;
  // Bands of which one is broken leave some values out.
  const option = pick.sameAs.spans.findIndex((span) => holds(span, position));
  return option < 0 ? undefined : option;
}

/** A test's value at a point, given what the picks it tests say there. */
export function valueAt(test: Test | undefined, point: Point, outcome: (pick: number) => Outcome): Mask {
  if (!test) return HOLDS;
  switch (test.kind) {
    case "always":
      return HOLDS;
    case "never":
      return FAILS;
    case "axis":
      return holds(test.span, point[test.axis]!) ? HOLDS : FAILS;
    case "pick":
      return valueOfFront(frontOf(outcome(test.pick)), test.span);
    case "not": {
      const inner = valueAt(test.part, point, outcome);
      return inner === HOLDS ? FAILS : inner === FAILS ? HOLDS : inner;
    }
    case "and":
    case "or": {
      const order = test.kind === "and" ? [FAILS, WAITS, NO_ADVICE] : [HOLDS, WAITS, NO_ADVICE];
      const values = test.parts.map((part) => valueAt(part, point, outcome));
      return order.find((value) => values.includes(value)) ?? (test.kind === "and" ? HOLDS : FAILS);
    }
  }
}

/** What other picks can see of an outcome: the options in front, or why there are none. */
export type Front = readonly number[] | "not applicable" | "unsettled" | "no advice";

export function frontOf({ status, places }: Outcome): Front {
  if (places.length > 0) return places[0]!;
  return status === "not applicable" || status === "no advice" ? status : "unsettled";
}

/** A test on several options at the front holds if it holds for each, fails if it fails for each, else is unsettled. */
export function valueOfFront(front: Front, span: Span): Mask {
  if (front === "not applicable") return FAILS;
  if (front === "no advice") return NO_ADVICE;
  if (front === "unsettled") return WAITS;
  const inside = front.filter((option) => holds(span, option)).length;
  return inside === front.length ? HOLDS : inside === 0 ? FAILS : WAITS;
}
