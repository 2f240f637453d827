/**
 * Why an answer is another: what was stated differently, and is heard where the two differ.
 *
 *     a pattern that gave, moved or struck the answer on one side, and is new, gone or changed     ┐
 *     the pick's own statements: its fall back where it spoke, its `only when` where it applied …  ├─ first what is heard,
 *     what another pick now answers, where this one tests it: the causes of that                   ┘  else whatever might be
 */
import type { Point } from "../analysis/outcome.js";
import { answersAt, type PickAnswer } from "../analysis/point.js";
import { FAILS, HOLDS } from "../analysis/diagrams/formula.js";
import type { Model } from "../model/model.js";
import { reasonsFor } from "../answer/because.js";
import {
  commonPlaces,
  type Change,
  type Paired,
  type PatternChange,
  type PickStatement,
  type Side,
  type Statements,
} from "./statements.js";

export type Cause =
  | { readonly kind: "pattern"; readonly title: string; readonly change: Change }
  | { readonly kind: "statement"; readonly pick: string; readonly statement: PickStatement | "books" };

type Models = Readonly<Record<Side, Model>>;

/** `point`: possible in both models, of one space; the pick is in both and answers differently there. Never empty. */
export function causesAt(models: Models, statements: Statements, pick: Paired, point: Point): readonly Cause[] {
  const answers = { before: answersAt(models.before, point), after: answersAt(models.after, point) };
  const of = new Map(statements.patterns.map((change) => [change.title, change]));
  // The two books together may test picks in a circle that neither has.
  const seen = new Set<Paired>();
  const causesOf = (pair: Paired): readonly Cause[] => {
    if (seen.has(pair)) return [];
    seen.add(pair);
    const [was, now] = [answers.before[pair.before!.index]!, answers.after[pair.after!.index]!];
    const own = [...heard(models.before, answers.before, was, of), ...heard(models.after, answers.after, now, of)];
    const ofPick = statements
      .changed(pair)
      .filter((statement) => isHeard(statement, was, now))
      .map((statement): Cause => ({ kind: "statement", pick: pair.name, statement }));
    const tested = statements.picks.filter(
      ({ before, after }) => before && after && (pair.before!.tests.includes(before.index) || pair.after!.tests.includes(after.index)),
    );
    const others = tested.filter((one) => saysOtherwise(one, answers));
    const sure = [...own, ...ofPick, ...others.flatMap(causesOf)];
    return sure.length > 0 || others.length > 0 ? sure : mayBe(pair, was, now);
  };
  const mayBe = (pair: Paired, was: PickAnswer, now: PickAnswer): readonly Cause[] => {
    const mayApply = (answer: PickAnswer, title: string): boolean =>
      answer.rules.rules.some(({ at, pattern }) => pattern.title === title && answer.situation.whens.get(at) !== FAILS);
    const patterns = statements.patterns.filter(({ title }) => mayApply(was, title) || mayApply(now, title)).map(causeOf);
    if (patterns.length > 0) return patterns;
    const stated = statements.changed(pair).map((statement): Cause => ({ kind: "statement", pick: pair.name, statement }));
    return stated.length > 0 ? stated : [{ kind: "statement", pick: pair.name, statement: "books" }];
  };
  const found = distinctCauses(causesOf(pick));
  return found.length > 0 ? found : [{ kind: "statement", pick: pick.name, statement: "books" }];
}

export function distinctCauses(causes: readonly Cause[]): readonly Cause[] {
  return [...new Map(causes.map((cause) => [JSON.stringify(cause), cause])).values()];
}

function causeOf({ title, change }: PatternChange): Cause {
  return { kind: "pattern", title, change };
}

/** Patterns that had a part in an answer and are not the same in both books. */
function heard(model: Model, all: readonly PickAnswer[], answer: PickAnswer, of: ReadonlyMap<string, PatternChange>): readonly Cause[] {
  const gave = reasonsFor(model, all, answer.rules.pick.index).flatMap(({ pattern }) =>
    pattern === undefined ? [] : [model.patterns[pattern]!.title],
  );
  return [...gave, ...waitedFor(answer)].flatMap((title) => {
    const change = of.get(title);
    return change ? [causeOf(change)] : [];
  });
}

/** Patterns that leave a pick waiting, or without advice, because what they test has no answer. */
function waitedFor({ rules, situation, verdict }: PickAnswer): readonly string[] {
  if (verdict.cause.kind !== "waiting") return [];
  return rules.rules
    .filter(({ at }) => situation.whens.get(at) !== HOLDS && situation.whens.get(at) !== FAILS)
    .map(({ pattern }) => pattern.title);
}

function isHeard(statement: PickStatement, was: PickAnswer, now: PickAnswer): boolean {
  const status = [was.outcome.status, now.outcome.status];
  const differ = status[0] !== status[1];
  const from = [was, now].map(({ verdict: { cause } }) => (cause.kind === "list" ? cause.from : ""));
  switch (statement) {
    case "only when":
      return differ && status.includes("not applicable");
    case "say nothing":
      return String(was.situation.silences) !== String(now.situation.silences);
    case "fall back":
      return from.includes("fall back");
    case "same as":
      return from.includes("copy");
    case "trust":
      return was.yields.some(({ by }) => by === "trust") || now.yields.some(({ by }) => by === "trust");
    // Only a move goes by the order of options, and only an option that both books have can be compared.
    case "options":
      return was.rules.rules.some(({ at, move }) => move !== 0 && was.situation.whens.get(at) === HOLDS);
  }
}

function saysOtherwise(pair: Paired, answers: Readonly<Record<Side, readonly PickAnswer[]>>): boolean {
  const [was, now] = [answers.before[pair.before!.index]!.outcome, answers.after[pair.after!.index]!.outcome];
  return (
    was.status !== now.status ||
    JSON.stringify(commonPlaces(was.places, pair.ofBefore)) !== JSON.stringify(commonPlaces(now.places, pair.ofAfter))
  );
}
