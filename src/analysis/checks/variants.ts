/**
 * Comparing a book with a slightly different one: is there any possible point where a pick's answer differs?
 *
 *      rule as it stands  ─┐
 *                          ├─ both settled in a box ──▶ two verdicts ──▶ differ? ──▶ a possible point there?
 *      rule as changed    ─┘
 *
 * Taking a pattern out is the variant whose `when` never holds.
 */
import type { Model } from "../../model/model.js";
import type { Answers } from "../answers.js";
import { findPossible, outcomeKey } from "../answers.js";
import type { Budget } from "../budget.js";
import { findBox, type Question } from "../decide.js";
import type { Box } from "../diagram.js";
import { FAILS, oneBit, type Formula } from "../formula.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import type { PickRules, Rule } from "../rules.js";
import { silencedBook, verdict, type Situation } from "../verdict.js";

export interface Variant {
  readonly rule: Rule;
  /** What its `when` becomes. */
  readonly when: Formula;
  /** The pick's rules as changed. */
  readonly rules: PickRules;
  /** Look also where both `when`s hold: there only *narrower* and trust can differ. */
  readonly alsoWhereBothHold: boolean;
}

/** A box with a possible point in which the two answers differ. */
export function findDifference(answers: Answers, rules: PickRules, variant: Variant, spend: Budget): Box | undefined {
  const found = findBox(answers.store, differenceQuestion(answers, rules, variant), (differs, box) => differs && findPossible(answers, box, spend) !== undefined, spend);
  return found?.box;
}

function differenceQuestion(answers: Answers, rules: PickRules, { rule, when, rules: changed, alsoWhereBothHold }: Variant): Question<boolean> {
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

