/**
 * Promises that do not hold at some possible point of their `when`.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * promise "Never a willow in mud": blade must not be willow when clarity is muddy
 * ```
 * Rejected (`promise`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * promise "Always thump": blade must be colorado when clarity is clear
 * ```
 *
 * `must be` asks of every option in front that it is one of those named, and so for an answer; `must not be` that none in front is;
 * `must have an answer` that there is a list.
 */
import type { Finding } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import type { Promise } from "../../model/model.js";
import { complement, spanOf } from "../../model/span.js";
import { decide } from "../decide.js";
import { HOLDS, oneBit } from "../formula.js";
import { answersAt, type Front } from "../point.js";
import { conjoined } from "../region.js";
import { find, finding, optionTexts, whereabouts, type Context } from "./context.js";
import { notHeld } from "./gaps.js";

export function brokenPromises(context: Context): Finding[] {
  const { model, answers } = context;
  return model.promises.flatMap((promise) => {
    const diagrams = answers.picks[promise.pick];
    const pick = model.picks[promise.pick]!;
    const what = say.questions.promise(promise.title);
    const tested = picksIn(context, promise);
    if (!diagrams || tested.some((pick) => !answers.picks[pick])) {
      context.undecided.push({ what: say.undecided.question(what), place: promise.namePlace });
      return [];
    }
    const broken = spanOf(diagrams.fronts.flatMap((front, at) => (breaks(promise, front) ? [at] : [])));
    const variable = answers.pickVariable(pick.index);
    const found = find(context, { place: promise.namePlace }, what, (target, spend) => {
      const formula = answers.store.and([
        answers.compile(promise.when),
        answers.store.atom(variable, [broken, complement(broken, diagrams.fronts.length), [], []]),
      ]);
      const node = decide<number>(answers.store, {
        formulas: [formula],
        settle: (mask) => (oneBit(mask(0)) ? { leaf: mask(0) === HOLDS ? 1 : 0 } : { keep: [0], ask: [0], signature: "" }),
      }, target, spend);
      // Where a broken pattern might have given the answer, a missing one is not held against the promise.
      return promise.must === "not be" ? node : conjoined([node, ...notHeld(context, pick, target, spend)], target, answers.variables);
    });
    if (!found) return [];
    const answer = answersAt(model, found.point)[pick.index]!;
    const outcome = say.promiseOutcome(pick.name, answer.outcome.status, optionTexts(pick, answer.outcome.places));
    const deciding = answer.standing.map((index) => model.patterns[index]!);
    return [finding("promise", promise.namePlace, say.promise(promise.title, outcome, { where: found.where.text, example: found.example, share: found.share }), {
      ...(promise.ofBase ? { severity: "warning" as const } : {}),
      pick: pick.name, patterns: deciding.map((pattern) => pattern.title), ...whereabouts(found),
      related: deciding.map((pattern) => ({ ...pattern.namePlace, message: say.relatedPattern(pattern.title) })),
    })];
  });
}

function breaks(promise: Promise, front: Front): boolean {
  if (typeof front === "string") return promise.must !== "not be";
  if (promise.must === "be") return front.some((option) => !promise.options.includes(option));
  return promise.must === "not be" && front.some((option) => promise.options.includes(option));
}

function picksIn({ model }: Context, promise: Promise): readonly number[] {
  const found: number[] = [];
  const walk = (test: Promise["when"]): void => {
    if (!test) return;
    if (test.kind === "pick") found.push(test.pick);
    else if (test.kind === "not") walk(test.part);
    else if (test.kind === "and" || test.kind === "or") test.parts.forEach(walk);
  };
  walk(promise.when);
  return [...new Set(found)].filter((pick) => pick < model.picks.length);
}
