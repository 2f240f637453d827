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
import type { Answers, Askable } from "../answers.js";
import { findPossible, outcomeKey } from "../answers.js";
import type { Budget } from "../budget.js";
import { findBox, type Question } from "../decide.js";
import type { Box } from "../diagram.js";
import { FAILS, oneBit, type Formula } from "../formula.js";
import { hullOf, hullOfEither, meet, subset } from "../neighbours.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import { prepared } from "../point.js";
import { withWhen, type PickRules, type Rule } from "../rules.js";
import { silencedBook, verdict, type Situation } from "../verdict.js";

export interface Variant {
  readonly rule: Rule;
  /** What its `when` becomes; "out": the pattern is taken out. */
  readonly when: Test | "out";
  /** Look also where both `when`s hold: there only *narrower* and trust can differ. */
  readonly alsoWhereBothHold: boolean;
}

/** A box with a possible point in which the two answers differ. */
export function findDifference(answers: Answers, { rules, hulls }: Askable, variant: Variant, spend: Budget): Box | undefined {
  // Only rules that can meet the pattern, as it stands or as changed, have a say.
  const when = variant.when === "out" ? answers.store.never : answers.compile(variant.when);
  const region = hullOfEither(hulls[variant.rule.at]!, hullOf(answers.store, when));
  const near = rules.rules.filter((rule) => rule === variant.rule || meet(hulls[rule.at]!, region));
  const places = new Map(near.map((rule, at) => [rule.at, at]));
  const few = subset(rules, near);
  const rule = few.rules[places.get(variant.rule.at)!]!;
  const changed = variant.when === "out" ? few : withWhen(few, rule.at, variant.when, prepared(answers.model).whens);
  if (variant.alsoWhereBothHold && !relationsDiffer(few, changed, rule)) return undefined;
  const found = findBox(answers.store, differenceQuestion(answers, few, changed, rule, when, variant.alsoWhereBothHold), (differs, box) => differs && findPossible(answers, box, spend) !== undefined, spend);
  return found?.box;
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

