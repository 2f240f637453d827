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
 * `must have an answer` that there is a list, `must have no answer` that there is none.
 *
 *     county.lore   promise "…": blade must have an answer     no advice from here on is on purpose, and breaks nothing
 *     shop.lore     say nothing on blade when …                (also where the blade has none because it goes by another such pick)
 */
import { analysisWords } from "../../messages/analysis.js";
import { picksIn } from "../../model/atoms.js";
import type { Promise, SayNothing } from "../../model/model.js";
import { complement, spanOf, union } from "../../model/span.js";
import type { Answers } from "../answers.js";
import { decide, whether } from "../diagrams/decide.js";
import { compose } from "../diagrams/compose.js";
import { mapLeaves } from "../diagrams/diagram.js";
import { HOLDS, type Formula, type Formulas } from "../diagrams/formula.js";
import { answersAt, frontOf, type Front, type PickAnswer } from "../point.js";
import { conjoined } from "../diagrams/region.js";
import { find, finding, whereabouts, type Check, type Context } from "./context.js";
import { notHeld } from "./gaps.js";
import { optionTexts } from "../../model/texts.js";

export function* brokenPromises(context: Context): ReturnType<Check> {
  const { model, answers } = context;
  for (const promise of model.promises) {
    yield;
    const diagrams = answers.picks[promise.pick];
    const pick = model.picks[promise.pick]!;
    const what = analysisWords.questions.promise(promise.title);
    const tested = picksIn(promise.when).filter((pick) => pick < model.picks.length);
    if (!diagrams || tested.some((pick) => !answers.picks[pick])) {
      context.undecided.push({ what: analysisWords.undecided.question(what), place: promise.namePlace });
      continue;
    }
    const key = `promise ${promise.must} ${promise.options.join(",")} ${promise.ofBase ? promise.book : ""} ${answers.prints.test(promise.when)} ${answers.prints.held(promise.pick)}`;
    const found = find(context, { picks: [promise.pick, ...tested], key, question: what, place: promise.namePlace }, (target, spend) => {
      const { store } = answers;
      const formula = store.and([
        answers.compile(promise.when),
        frontIs(answers, promise.pick, (front) => breaks(promise, front)),
        store.not(silentOnPurpose(answers, promise)),
      ]);
      const node = decide(store, whether(formula), target, spend);
      // Said by what the pick goes by, not by what it answers.
      const answer = mapLeaves(diagrams.local, target, (leaf) =>
        diagrams.fronts.findIndex((front) => String(front) === String(frontOf(leaf))),
      );
      const where = compose(
        node,
        target,
        new Map([[answers.pickVariable(promise.pick), { node: answer, forest: target }]]),
        answers.variables,
      );
      // Where a broken pattern might have given the answer, a missing one is not held against the promise.
      return promise.must === "not be" || promise.must === "have no answer"
        ? where
        : conjoined([where, ...notHeld(context, pick, target, spend)], target, answers.variables);
    });
    if (!found) continue;
    const all = answersAt(model, found.point);
    const answer = all[pick.index]!;
    const outcome = analysisWords.promiseOutcome(pick.name, answer.outcome.status, optionTexts(pick, answer.outcome.places));
    const deciding = answer.standing.map((index) => model.patterns[index]!);
    const at = { where: found.where.text, example: found.example, share: found.share };
    const saying =
      promise.must === "have no answer"
        ? analysisWords.promiseOfSilence(promise.title, pick.name, outcome, at)
        : analysisWords.promise(promise.title, outcome, at);
    yield finding("promise", promise.namePlace, saying, {
      ...(promise.ofBase ? { severity: "warning" as const } : {}),
      pick: pick.name,
      patterns: deciding.map((pattern) => pattern.title),
      ...whereabouts(found),
      related: [
        ...deciding.map((pattern) => ({ ...pattern.namePlace, message: analysisWords.relatedPattern(pattern.title) })),
        ...silences(context, all, promise.pick).map(({ pick, silence }) => ({
          ...silence.place,
          message: analysisWords.relatedSilence(pick),
        })),
      ],
    });
  }
}

function breaks(promise: Promise, front: Front): boolean {
  const answered = typeof front !== "string";
  switch (promise.must) {
    case "be":
      return !answered || front.some((option) => !promise.options.includes(option));
    case "not be":
      return answered && front.some((option) => promise.options.includes(option));
    case "have an answer":
      return !answered;
    case "have no answer":
      return answered;
  }
}

/** Holds where the pick has no advice because a book more local than the promise's own says nothing on it, or on a pick that it tests. */
function silentOnPurpose(answers: Answers, promise: Promise): Formula {
  const { model, store } = answers;
  const known = new Map<number, Formula>();
  const silent = (pick: number): Formula => {
    let formula = known.get(pick);
    if (formula === undefined) {
      const { sayNothing, tests } = model.picks[pick]!;
      const local = sayNothing
        .filter(({ book }) => model.moreLocal(book, promise.book))
        .map(({ when }) => wherever(store, answers.compile(when)));
      known.set(
        pick,
        (formula = store.and([frontIs(answers, pick, (front) => front === "no advice"), anyOf(store, [...local, ...tests.map(silent)])])),
      );
    }
    return formula;
  };
  return promise.ofBase ? silent(promise.pick) : store.never;
}

function frontIs({ picks, store, pickVariable }: Answers, pick: number, wanted: (front: Front) => boolean): Formula {
  const { fronts } = picks[pick]!;
  const span = spanOf(fronts.flatMap((front, at) => (wanted(front) ? [at] : [])));
  return store.atom(pickVariable(pick), [span, complement(span, fronts.length), [], []]);
}

function anyOf(store: Formulas, parts: readonly Formula[]): Formula {
  return store.not(store.and(parts.map(store.not)));
}

/** Holds where the formula does, and fails everywhere else, also where the formula is unsettled. */
function wherever(store: Formulas, formula: Formula): Formula {
  const { kind, parts } = store.shape(formula);
  if (kind === "and") return store.and(parts.map((part) => wherever(store, part)));
  if (kind === "or")
    return anyOf(
      store,
      parts.map((part) => wherever(store, part)),
    );
  if (kind === "constant") return store.mask(formula) === HOLDS ? store.always : store.never;
  const [yes, ...others] = store.quarters(formula);
  return store.atom(store.support(formula)[0]!, [yes, others.reduce(union), [], []]);
}

/** Why a pick has no advice at a point: every `say nothing` that holds on it, or on a pick it goes by that has none either. */
function silences(
  { model }: Context,
  all: readonly PickAnswer[],
  pick: number,
): readonly { readonly pick: string; readonly silence: SayNothing }[] {
  const seen = new Set<number>();
  const walk = (at: number): void => {
    if (seen.has(at) || all[at]!.outcome.status !== "no advice") return;
    seen.add(at);
    model.picks[at]!.tests.forEach(walk);
  };
  walk(pick);
  return [...seen].flatMap((at) => {
    const { name, sayNothing } = model.picks[at]!;
    return sayNothing.filter((_, i) => all[at]!.situation.silences[i] === HOLDS).map((silence) => ({ pick: name, silence }));
  });
}
