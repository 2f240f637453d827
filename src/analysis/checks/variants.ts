/**
 * Comparing a book with a slightly different one: is there any possible point where a pick's answer differs?
 *
 *      rule as it stands  ─┐
 *                          ├─ both settled in a box ──▶ two verdicts ──▶ differ? ──▶ a possible point there?
 *      rule as changed    ─┘
 *
 * Taking a pattern out is the variant whose `when` never holds.
 */
import type { Model, Test } from "../../model/model.js";
import { same, subtract, within as spanWithin } from "../../model/span.js";
import type { Answers, Askable } from "../answers.js";
import { findPossible, outcomeKey, pointIn } from "../answers.js";
import { budget, withinBudget, type Budget } from "../budget.js";
import { changesByJoining, changesByLeaving, type ChangesIn } from "./at-leaves.js";
import { differing, findBox, keeping, type Question } from "../diagrams/decide.js";
import { lookup, type Box } from "../diagrams/diagram.js";
import { FAILS, oneBit, type Formula, type Mask } from "../diagrams/formula.js";
import type { Point } from "../outcome.js";
import { hullOf, hullOfEither, subset, type Hull } from "../neighbours.js";
import { limitOf, plainBox } from "../plain.js";
import { constantsOf, pickFormulas, pickQuestion } from "../pick-question.js";
import { prepared, situationAt, valueAt } from "../point.js";
import { withWhen, type PickRules, type Rule } from "../rules.js";
import { silencedBook, verdict, type Situation } from "../verdict.js";
import { pointsToTry, standingPoint, type Tries } from "./tries.js";

export interface Variant {
  readonly rule: Rule;
  /** What its `when` becomes; "out": the pattern is taken out. */
  readonly when: Test | "out";
  /** Look also where both `when`s hold: there only *narrower* and trust can differ. */
  readonly alsoWhereBothHold: boolean;
}

/** Whether the two answers differ at some possible point. */
export function differs(answers: Answers, askable: Askable, variant: Variant, spend: Budget): boolean {
  const { rule, when, alsoWhereBothHold } = variant;
  const change = changeOf(answers, variant);
  const place = alsoWhereBothHold ? askable.hull(rule) : change.hull;
  if (place === "nowhere") return false;
  if (alsoWhereBothHold) return differsIn(answers, askable, variant, change, place, undefined, spend);
  const changesIn: ChangesIn = (box) => {
    const tried = withinBudget(() => ({ possible: findPossible(answers, box, budget(TRY_STEPS)) }));
    if (!tried) return undefined;
    return tried.possible ? differsAt(answers, askable, variant, pointIn(answers, tried.possible)) || undefined : false;
  };
  const told =
    when === "out"
      ? changesByLeaving(answers, askable, rule, place, changesIn)
      : change.joins
        ? changesByJoining(answers, askable, rule, when, place, changesIn)
        : [place];
  if (told === true) return true;
  return told.some((box) => {
    const isWhole = box === place;
    const points = isWhole ? change.box() : box;
    return (
      (isWhole && differsAtOnce(answers, askable, variant, points, "first")) ||
      differsIn(answers, askable, variant, change, box, points, spend)
    );
  });
}

/** The same of the points in one place; `points`: a box from which some are tried first. */
function differsIn(
  answers: Answers,
  askable: Askable,
  variant: Variant,
  change: Change,
  place: Box,
  points: Box | undefined,
  spend: Budget,
): boolean {
  const { rules, index } = askable;
  const { alsoWhereBothHold } = variant;
  // Only rules that can meet the pattern there, as it stands or as changed, have a say.
  const near = withItself(index().meeting(place), variant.rule);
  // A point where few others speak is worth looking for only where many may.
  if (near.length > FEW && differsAtOnce(answers, askable, variant, points, "more")) return true;
  const few = subset(
    rules,
    near.map((at) => rules.rules[at]!),
  );
  const rule = few.rules[near.indexOf(variant.rule.at)]!;
  const changed = variant.when === "out" ? few : withWhen(few, rule.at, variant.when, prepared(answers.model).whens);
  if (alsoWhereBothHold && !relationsDiffer(few, changed, rule)) return false;
  const question = differenceQuestion(answers, few, changed, rule, change.when(), alsoWhereBothHold);
  return (
    findBox(
      answers.store,
      question,
      (differs) => differs,
      spend,
      place,
      (box) => findPossible(answers, box, spend) !== undefined,
    ) !== undefined
  );
}

/** Rules that may meet a pattern, and that are asked about without looking for a point first. */
const FEW = 8;

function withItself(places: readonly number[], rule: Rule): readonly number[] {
  return [...new Set([...places, rule.at])].sort((a, b) => a - b);
}

/** Where just one of the two `when`s holds. */
interface Change {
  readonly hull: Hull | "nowhere";
  /** Whether the changed `when` holds throughout the hull, and the other one nowhere. */
  readonly joins: boolean;
  /** Some box of it. */
  box(): Box | undefined;
  /** The changed `when`, as it is there and wherever both hold. */
  when(): Formula;
}

/** Steps for finding a box where just one of the two holds. */
const TRY_STEPS = 2000;

function changeOf(answers: Answers, { rule, when }: Variant): Change {
  const { store, compile } = answers;
  const plain = plainChange(answers.model, rule.pattern.when, when);
  if (plain !== "mixed")
    return {
      hull: plain,
      joins: when !== "out",
      box: () => (plain === "nowhere" ? undefined : plain),
      when: () => (when === "out" ? store.never : store.always),
    };
  const formulas = [compile(rule.pattern.when), when === "out" ? store.never : compile(when)] as const;
  const [own, other] = formulas;
  return {
    hull: hullOfEither(hullOf(store, store.and([own, store.not(other)])), hullOf(store, store.and([other, store.not(own)]))),
    joins: false,
    box: () => withinBudget(() => findBox(store, differing(formulas), (differ) => differ, budget(TRY_STEPS)))?.box,
    when: () => other,
  };
}

/** The one box where just one of two plain `when`s holds, if it is one box and the other one wider, or never; "mixed" otherwise. */
function plainChange(model: Model, before: Test | undefined, after: Variant["when"]): Hull | "nowhere" | "mixed" {
  const own = plainBox(before);
  if (typeof own === "string" || after === "out") return own;
  const wide = plainBox(after);
  if (typeof wide === "string") return "mixed";
  const others = [...new Set([...own.keys(), ...wide.keys()])].filter(
    (axis) => !same(limitOf(model, own, axis), limitOf(model, wide, axis)),
  );
  if (others.length === 0) return "nowhere";
  const [axis] = others as [number];
  const [narrow, outer] = [limitOf(model, own, axis), limitOf(model, wide, axis)];
  return others.length > 1 || !spanWithin(narrow, outer) ? "mixed" : new Map(wide).set(axis, subtract(outer, narrow));
}

/**
 * Most patterns and parts do something, and nearly any point where only one of the two `when`s holds shows it: a few such points are
 * looked at first. One that shows a difference proves it; finding none proves nothing.
 */
function differsAtOnce(answers: Answers, askable: Askable, variant: Variant, box: Box | undefined, which: Tries): boolean {
  const tried = (point: Point | undefined): boolean => point !== undefined && differsAt(answers, askable, variant, point);
  if (variant.when === "out" && which === "first" && tried(standingPoint(answers, askable, variant.rule))) return true;
  if (!box) return false;
  for (const point of pointsToTry(answers, askable, box, which)) if (tried(point)) return true;
  return false;
}

function differsAt(answers: Answers, { rules, index }: Askable, { rule, when: changed }: Variant, point: Point): boolean {
  const { model } = answers;
  const axes = model.axes.length;
  const position = (variable: number): number =>
    variable < axes ? point[variable]! : lookup(answers.picks[variable - axes]!.frontDiagram.node, (axis) => point[axis]!);
  if (lookup(answers.possible.node, position) !== 1) return false;
  const value = (test: Test | undefined): Mask =>
    valueAt(test, point, (pick) => lookup(answers.picks[pick]!.whole, (axis) => point[axis]!));
  const mine = value(rule.pattern.when);
  const other = changed === "out" ? FAILS : value(changed);
  if (mine === other) return false;
  const near = withItself(index().at(position), rule);
  const few = subset(
    rules,
    near.map((at) => rules.rules[at]!),
  );
  const at = near.indexOf(rule.at);
  const situation = situationAt(few, point, value);
  const whens = new Map(situation.whens).set(at, other);
  const after = changed === "out" ? few : withWhen(few, at, changed, prepared(model).whens);
  return outcomeKey(answerOf(model, few, situation)) !== outcomeKey(answerOf(model, after, { ...situation, whens }));
}

/** Whether the pattern is narrower, broader or trusted otherwise than before, next to any that it can meet. */
function relationsDiffer(before: PickRules, after: PickRules, rule: Rule): boolean {
  if (!rule.goes) return false;
  const mine = [before.rules[rule.at]!, after.rules[rule.at]!] as const;
  if (before.ranks(mine[0]).join() !== after.ranks(mine[1]).join()) return true;
  return before.rules.some(
    (other) =>
      other.goes &&
      other.at !== rule.at &&
      (before.narrower(mine[0], other) !== after.narrower(mine[1], other) ||
        before.narrower(other, mine[0]) !== after.narrower(other, mine[1])),
  );
}

function differenceQuestion(
  answers: Answers,
  rules: PickRules,
  changed: PickRules,
  rule: Rule,
  when: Formula,
  alsoWhereBothHold: boolean,
): Question<boolean> {
  const { model } = answers;
  const at = pickFormulas(rules, answers.compile);
  const own = at.rule(rule.at);
  const other = at.formulas.length;
  // The situation of the variant: the same but for the one `when`.
  const leafOf =
    (mine: number) =>
    (situation: Situation): boolean => {
      if (!situation.whens.has(rule.at)) return false;
      const whens = new Map(situation.whens).set(rule.at, mine);
      return outcomeKey(answerOf(model, rules, situation)) !== outcomeKey(answerOf(model, changed, { ...situation, whens }));
    };
  const questions = new Map<Mask, Question<boolean>>();
  const questionOf = (mine: Mask): Question<boolean> => {
    let question = questions.get(mine);
    if (!question)
      questions.set(
        mine,
        (question = pickQuestion<boolean>(model, rules, at, {
          watched: new Set([rule.at]),
          variant: { rules: changed, when: mine },
          clash: false,
          leafOf: leafOf(mine),
        })),
      );
    return question;
  };
  return {
    formulas: [...at.formulas, when],
    settle(state) {
      const { live, mask } = state;
      const open = [own, other].filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: live, ask: open, signature: constantsOf(live, mask) };
      if (mask(own) === mask(other) && (mask(own) === FAILS || !alsoWhereBothHold)) return { leaf: false };
      const settled = questionOf(mask(other)).settle(state);
      if ("leaf" in settled) return settled;
      // What the pick's own question drops changes nothing, as it stands or as changed.
      return !settled.keep.includes(own)
        ? { leaf: false }
        : { ...settled, keep: keeping(settled.keep, [own, other]), signature: `${settled.signature}|${mask(own)}${mask(other)}` };
    },
  };
}

function answerOf(model: Model, rules: PickRules, situation: Situation) {
  return verdict(rules, situation, silencedBook(rules, situation, model.moreLocal));
}
