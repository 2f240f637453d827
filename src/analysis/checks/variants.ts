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
import { intersect, same, subtract, within as spanWithin, type Span } from "../../model/span.js";
import type { Answers, Askable } from "../answers.js";
import { findPossible, outcomeKey } from "../answers.js";
import { budget, within, type Budget } from "../budget.js";
import { findBox, keeping, type Question } from "../decide.js";
import { lookup, type Box } from "../diagram.js";
import { FAILS, oneBit, type Formula, type Mask } from "../formula.js";
import type { Point } from "../outcome.js";
import { hullOf, hullOfEither, subset, type Hull } from "../neighbours.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import { prepared, situationAt, valueAt } from "../point.js";
import { withWhen, type PickRules, type Rule } from "../rules.js";
import { silencedBook, verdict, type Situation } from "../verdict.js";
import { pointsToTry, standingPoint } from "./tries.js";

export interface Variant {
  readonly rule: Rule;
  /** What its `when` becomes; "out": the pattern is taken out. */
  readonly when: Test | "out";
  /** Look also where both `when`s hold: there only *narrower* and trust can differ. */
  readonly alsoWhereBothHold: boolean;
}

/** Whether the two answers differ at some possible point. */
export function differs(answers: Answers, askable: Askable, variant: Variant, spend: Budget): boolean {
  const { rules, hull, index } = askable;
  const change = changeOf(answers, variant);
  if (!variant.alsoWhereBothHold) {
    if (change.hull === "nowhere") return false;
    if (differsAtOnce(answers, askable, variant, change)) return true;
  }
  // Only rules that can meet the pattern, as it stands or as changed, have a say.
  const near = withItself(index().meeting(variant.alsoWhereBothHold ? hull(variant.rule) : change.hull), variant.rule);
  const few = subset(rules, near.map((at) => rules.rules[at]!));
  const rule = few.rules[near.indexOf(variant.rule.at)]!;
  const changed = variant.when === "out" ? few : withWhen(few, rule.at, variant.when, prepared(answers.model).whens);
  if (variant.alsoWhereBothHold && !relationsDiffer(few, changed, rule)) return false;
  return findBox(answers.store, differenceQuestion(answers, few, changed, rule, formulaOf(answers, variant), variant.alsoWhereBothHold), (differs, box) => differs && findPossible(answers, box, spend) !== undefined, spend) !== undefined;
}

function withItself(places: readonly number[], rule: Rule): readonly number[] {
  return [...new Set([...places, rule.at])].sort((a, b) => a - b);
}

function formulaOf({ store, compile }: Answers, { when }: Variant): Formula {
  return when === "out" ? store.never : compile(when);
}

/** Where just one of the two `when`s holds. */
interface Change {
  readonly hull: Hull | "nowhere";
  /** Some box of it. */
  box(): Box | undefined;
}

/** Steps for finding a box where just one of the two holds. */
const TRY_STEPS = 2000;

function changeOf(answers: Answers, variant: Variant): Change {
  const { store } = answers;
  const plain = plainChange(answers.model, variant);
  if (plain) return { hull: plain, box: () => (plain === "nowhere" ? undefined : plain) };
  const [own, when] = [answers.compile(variant.rule.pattern.when), formulaOf(answers, variant)];
  return {
    hull: hullOfEither(hullOf(store, store.and([own, store.not(when)])), hullOf(store, store.and([when, store.not(own)]))),
    box: () => within(() => findBox<boolean>(store, {
      formulas: [own, when],
      settle({ mask }) {
        const open = [0, 1].filter((index) => !oneBit(mask(index)));
        return open.length === 0 ? { leaf: mask(0) !== mask(1) } : { keep: [0, 1], ask: open, signature: "" };
      },
    }, (differ) => differ, budget(TRY_STEPS)))?.box,
  };
}

/** The one box where just one of two plain `when`s holds, if it is one box: most patterns limit a few conditions, each to a stretch. */
function plainChange({ axes }: Model, { rule, when }: Variant): Hull | "nowhere" | undefined {
  const own = plainBox(rule.pattern.when);
  if (!own || own === "nowhere" || when === "out") return own;
  const wide = plainBox(when);
  if (!wide || wide === "nowhere") return undefined;
  const limit = (box: Hull, axis: number): Span => box.get(axis) ?? [0, axes[axis]!.size - 1];
  const other = [...new Set([...own.keys(), ...wide.keys()])].filter((axis) => !same(limit(own, axis), limit(wide, axis)));
  if (other.length === 0) return "nowhere";
  const [axis] = other as [number];
  if (other.length > 1 || !spanWithin(limit(own, axis), limit(wide, axis))) return undefined;
  return new Map(wide).set(axis, subtract(limit(wide, axis), limit(own, axis)));
}

/** Of a test that is a plain conjunction of limits: these. */
function plainBox(test: Test | undefined): Hull | "nowhere" | undefined {
  if (!test || test.kind === "always") return new Map();
  if (test.kind === "axis") return test.span.length === 0 ? "nowhere" : new Map([[test.axis, test.span]]);
  if (test.kind !== "and") return undefined;
  const box = new Map<number, Span>();
  for (const part of test.parts) {
    const limits = plainBox(part);
    if (!limits || limits === "nowhere") return limits;
    for (const [axis, span] of limits) box.set(axis, box.has(axis) ? intersect(box.get(axis)!, span) : span);
  }
  return [...box.values()].some((span) => span.length === 0) ? "nowhere" : box;
}

/**
 * Most patterns and parts do something, and nearly any point where only one of the two `when`s holds shows it: a few such points are
 * looked at first. One that shows a difference proves it; finding none proves nothing.
 */
function differsAtOnce(answers: Answers, askable: Askable, variant: Variant, change: Change): boolean {
  const tried = (point: Point | undefined): boolean => point !== undefined && differsAt(answers, askable, variant, point);
  if (variant.when === "out" && tried(standingPoint(answers, askable, variant.rule))) return true;
  const box = change.box();
  if (!box) return false;
  for (const point of pointsToTry(answers, askable, box)) if (tried(point)) return true;
  return false;
}

function differsAt(answers: Answers, { rules, index }: Askable, { rule, when: changed }: Variant, point: Point): boolean {
  const { model } = answers;
  const axes = model.axes.length;
  const position = (variable: number): number => (variable < axes ? point[variable]! : lookup(answers.picks[variable - axes]!.frontDiagram.node, (axis) => point[axis]!));
  if (lookup(answers.possible.node, position) !== 1) return false;
  const value = (test: Test | undefined): Mask => valueAt(test, point, (pick) => lookup(answers.picks[pick]!.whole, (axis) => point[axis]!));
  const mine = value(rule.pattern.when);
  const other = changed === "out" ? FAILS : value(changed);
  if (mine === other) return false;
  const near = withItself(index().at(position), rule);
  const few = subset(rules, near.map((at) => rules.rules[at]!));
  const at = near.indexOf(rule.at);
  const situation = situationAt(few, point, value);
  const whens = situation.whens.map((before, i) => (i === at ? other : before));
  const after = changed === "out" ? few : withWhen(few, at, changed, prepared(model).whens);
  return outcomeKey(answerOf(model, few, situation)) !== outcomeKey(answerOf(model, after, { ...situation, whens }));
}

/** Whether the pattern is narrower, broader or trusted otherwise than before, next to any that it can meet. */
function relationsDiffer(before: PickRules, after: PickRules, rule: Rule): boolean {
  if (!rule.goes) return false;
  const mine = [before.rules[rule.at]!, after.rules[rule.at]!] as const;
  if (before.ranks(mine[0]).join() !== after.ranks(mine[1]).join()) return true;
  return before.rules.some((other) => other.goes && other.at !== rule.at && (
    before.narrower(mine[0], other) !== after.narrower(mine[1], other) || before.narrower(other, mine[0]) !== after.narrower(other, mine[1])));
}

function differenceQuestion(answers: Answers, rules: PickRules, changed: PickRules, rule: Rule, when: Formula, alsoWhereBothHold: boolean): Question<boolean> {
  const { model } = answers;
  const at = pickFormulas(rules, answers.compile);
  const own = at.rule(rule.at);
  const other = at.formulas.length;
  // The situation of the variant: the same but for the one `when`.
  const leafOf = (mine: number) => (situation: Situation): boolean => {
    const whens = [...situation.whens];
    if (whens.length > 0) whens[rule.at] = mine;
    return outcomeKey(answerOf(model, rules, situation)) !== outcomeKey(answerOf(model, changed, { ...situation, whens }));
  };
  const questions = new Map([1, 2, 4, 8].map((value) => [value, pickQuestion<boolean>(model, rules, at, { watched: new Set([rule.at]), leafOf: leafOf(value) })]));
  return {
    formulas: [...at.formulas, when],
    settle(state) {
      const { live, mask } = state;
      const open = [own, other].filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: live, ask: open, signature: "" };
      if (mask(own) === mask(other) && (mask(own) === FAILS || !alsoWhereBothHold)) return { leaf: false };
      const settled = questions.get(mask(other))!.settle(state);
      return "leaf" in settled ? settled : { ...settled, keep: keeping(settled.keep, [own, other]), signature: `${settled.signature}|${mask(own)}${mask(other)}` };
    },
  };
}

function answerOf(model: Model, rules: PickRules, situation: Situation) {
  return verdict(rules, situation, silencedBook(rules, situation, model.moreLocal));
}

