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
import { count, type Span } from "../../model/span.js";
import type { Answers, Askable } from "../answers.js";
import { findPossible, outcomeKey } from "../answers.js";
import { budget, within, type Budget } from "../budget.js";
import { findBox, type Question } from "../decide.js";
import { lookup } from "../diagram.js";
import { FAILS, oneBit, type Formula } from "../formula.js";
import { hullOf, hullOfEither, meet, subset } from "../neighbours.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import { prepared, situationAt } from "../point.js";
import { withWhen, type PickRules, type Rule } from "../rules.js";
import { silencedBook, verdict, type Situation } from "../verdict.js";

export interface Variant {
  readonly rule: Rule;
  /** What its `when` becomes; "out": the pattern is taken out. */
  readonly when: Test | "out";
  /** Look also where both `when`s hold: there only *narrower* and trust can differ. */
  readonly alsoWhereBothHold: boolean;
}

/** Whether the two answers differ at some possible point. */
export function differs(answers: Answers, askable: Askable, variant: Variant, spend: Budget): boolean {
  const { rules, hulls } = askable;
  const when = variant.when === "out" ? answers.store.never : answers.compile(variant.when);
  if (!variant.alsoWhereBothHold && differsAtOnce(answers, askable, variant, when)) return true;
  // Only rules that can meet the pattern, as it stands or as changed, have a say.
  const { store } = answers;
  const own = answers.compile(variant.rule.pattern.when);
  const region = variant.alsoWhereBothHold
    ? hulls[variant.rule.at]!
    : hullOfEither(hullOf(store, store.and([own, store.not(when)])), hullOf(store, store.and([when, store.not(own)])));
  const near = rules.rules.filter((rule) => rule === variant.rule || meet(hulls[rule.at]!, region));
  const places = new Map(near.map((rule, at) => [rule.at, at]));
  const few = subset(rules, near);
  const rule = few.rules[places.get(variant.rule.at)!]!;
  const changed = variant.when === "out" ? few : withWhen(few, rule.at, variant.when, prepared(answers.model).whens);
  if (variant.alsoWhereBothHold && !relationsDiffer(few, changed, rule)) return false;
  return findBox(answers.store, differenceQuestion(answers, few, changed, rule, when, variant.alsoWhereBothHold), (differs, box) => differs && findPossible(answers, box, spend) !== undefined, spend) !== undefined;
}

/** How many points are looked at before the question is asked in earnest. */
const TRIES = 6;
const TRY_STEPS = 2000;

/**
 * Most patterns and parts do something, and nearly any point where only one of the two `when`s holds shows it: a few such points are
 * looked at first. One that shows a difference proves it; finding none proves nothing.
 */
function differsAtOnce(answers: Answers, { rules, rulesAt }: Askable, { rule, when: changed }: Variant, when: Formula): boolean {
  const { model, store, compile } = answers;
  const own = compile(rule.pattern.when);
  const found = within(() => findBox<boolean>(store, {
    formulas: [own, when],
    settle(mask) {
      const open = [0, 1].filter((index) => !oneBit(mask(index)));
      return open.length === 0 ? { leaf: mask(0) !== mask(1) } : { keep: [0, 1], ask: open, signature: "" };
    },
  }, (differ) => differ, budget(TRY_STEPS)));
  if (!found) return false;
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const point = answers.model.axes.map((axis) => spread(found.box.get(axis.index) ?? [0, axis.size - 1], attempt, axis.index));
    const position = (variable: number): number => (variable < model.axes.length ? point[variable]! : lookup(answers.picks[variable - model.axes.length]!.frontDiagram.node, (axis) => point[axis]!));
    if (lookup(answers.possible.node, position) !== 1) continue;
    const mine = store.valueAt(own, position);
    const other = store.valueAt(when, position);
    if (mine === other) continue;
    const value = (test: Test | undefined): number => store.valueAt(compile(test), position);
    const near = [...new Set([...rulesAt(position), rule.at])].sort((a, b) => a - b);
    const few = subset(rules, near.map((at) => rules.rules[at]!));
    const at = few.rules.findIndex(({ pattern }) => pattern === rule.pattern);
    const situation = situationAt(few, point, value);
    const whens = situation.whens.map((before, i) => (i === at ? other : before));
    const after = changed === "out" ? few : withWhen(few, at, changed, prepared(model).whens);
    if (outcomeKey(answerOf(model, few, situation)) !== outcomeKey(answerOf(model, after, { ...situation, whens }))) return true;
  }
  return false;
}

/** Positions of a span, far apart for different attempts and axes. */
function spread(span: Span, attempt: number, axis: number): number {
  const size = count(span);
  let at = Math.floor(((0.5 + attempt * 0.618034 + axis * 0.381966) % 1) * size);
  for (let i = 0; i < span.length; i += 2) {
    const length = span[i + 1]! - span[i]! + 1;
    if (at < length) return span[i]! + at;
    at -= length;
  }
  return span[0]!;
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
    settle(mask) {
      const open = [own, other].filter((index) => !oneBit(mask(index)));
      const all = [...at.formulas, when].map((_, i) => i).filter((i) => mask(i) !== 0);
      if (open.length > 0) return { keep: all, ask: open, signature: "" };
      if (mask(own) === mask(other) && (mask(own) === FAILS || !alsoWhereBothHold)) return { leaf: false };
      const settled = questions.get(mask(other))!.settle(mask);
      return "leaf" in settled ? settled : { ...settled, keep: [...new Set([...settled.keep, own, other])], signature: `${settled.signature}|${mask(own)}${mask(other)}` };
    },
  };
}

function answerOf(model: Model, rules: PickRules, situation: Situation) {
  return verdict(rules, situation, silencedBook(rules, situation, model.moreLocal));
}

