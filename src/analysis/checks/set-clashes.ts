/**
 * Set clashes: two go withs that go by different members of one set and disagree, where both members are there, and only the trust
 * list, which was written with something else in mind, decides between them.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks
 * pick blade: colorado, willow
 * trust clarity first, then cover
 * pattern "Grass sheds" go with blade willow when cover has grass and clarity is clear and cover has no docks
 * pattern "Docks want thump" go with blade colorado when cover has docks
 * fall back on blade colorado
 * ```
 * Rejected (`set-clash`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks
 * pick blade: colorado, willow
 * trust clarity first, then cover
 * pattern "Grass sheds" go with blade willow when cover has grass and clarity is clear
 * pattern "Docks want thump" go with blade colorado when cover has docks
 * fall back on blade colorado
 * ```
 */
import type { Finding } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import type { Test } from "../../model/model.js";
import type { Askable } from "../answers.js";
import { decide, type Question } from "../decide.js";
import { FAILS, HOLDS, oneBit } from "../formula.js";
import { meet, meeting, subset } from "../neighbours.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import type { Rule } from "../rules.js";
import { silencedBook, verdict, type Yield } from "../verdict.js";
import { beatsFixes } from "./conflicts.js";
import { askablePicks, find, finding, saysOf, whereabouts, type Context } from "./context.js";

export function setClashes(context: Context): Finding[] {
  return askablePicks(context).flatMap((diagrams) => pairs(context, diagrams).flatMap(([winner, loser, set]) => {
    const { rules } = diagrams;
    const { pick } = rules;
    const found = find(context, { place: pick.namePlace }, say.questions.setClash(pick.name), (target, spend) =>
      decide<number>(context.answers.store, clashQuestion(context, diagrams, winner, loser), target, spend));
    if (!found) return [];
    const saying = say.setClash(context.model.conditions[set]!.name,
      { title: winner.pattern.title, says: saysOf(pick, winner) }, { title: loser.pattern.title, says: saysOf(pick, loser) },
      { where: found.where.text, example: found.example, share: found.share });
    return [finding("set-clash", loser.pattern.namePlace, saying, {
      pick: pick.name, patterns: [winner.pattern.title, loser.pattern.title], ...whereabouts(found),
      related: [{ ...winner.pattern.namePlace, message: say.relatedPattern(winner.pattern.title) }],
      fixes: beatsFixes(context, rules, winner, loser),
    })];
  }));
}

/** Pairs that only trust can tell apart: the trusted one first, with the set they share. */
function pairs(context: Context, { rules, hulls }: Askable): (readonly [winner: Rule, loser: Rule, set: number])[] {
  const found: (readonly [Rule, Rule, number])[] = [];
  const sets = context.model.conditions.filter((condition) => condition.domain.kind === "set");
  if (sets.length === 0) return found;
  const members = rules.rules.map((rule) => new Set(axesIn(rule.pattern.when)));
  for (const winner of rules.rules)
    for (const loser of rules.rules) {
      if (winner === loser || !winner.goes || !loser.goes || [...winner.goesTo].some((option) => loser.goesTo.has(option))) continue;
      const [mine, others] = [members[winner.at]!, members[loser.at]!];
      const set = sets.find((condition) => condition.axes.some((axis) => mine.has(axis) && !others.has(axis)) && condition.axes.some((axis) => others.has(axis) && !mine.has(axis)));
      if (!set || !meet(hulls[winner.at]!, hulls[loser.at]!) || rules.byTrust(winner, loser) >= 0 || winner.beats.includes(loser.at) || loser.beats.includes(winner.at)) continue;
      found.push([winner, loser, set.index]);
    }
  return found;
}

function axesIn(test: Test | undefined): readonly number[] {
  if (!test) return [];
  if (test.kind === "axis") return [test.axis];
  if (test.kind === "not") return axesIn(test.part);
  return test.kind === "and" || test.kind === "or" ? test.parts.flatMap(axesIn) : [];
}

/** 1 where both speak, the winner stands, and the loser was dropped by trust and nothing else. */
function clashQuestion(context: Context, { rules: all, hulls }: Askable, first: Rule, second: Rule): Question<number> {
  const together = meeting(hulls[first.at]!, hulls[second.at]!);
  const rules = subset(all, all.rules.filter((rule) => meet(hulls[rule.at]!, together)));
  const [winner, loser] = [first, second].map((rule) => rules.rules.find((other) => other.pattern === rule.pattern)!) as [Rule, Rule];
  const at = pickFormulas(rules, context.answers.compile);
  const both = [at.rule(winner.at), at.rule(loser.at)];
  const base = pickQuestion<number>(context.model, rules, at, {
    watched: new Set([winner.at, loser.at]),
    leafOf(situation) {
      const yields: Yield[] = [];
      const result = verdict(rules, situation, silencedBook(rules, situation, context.model.moreLocal), (yielded) => yields.push(yielded));
      return result.standing.includes(winner.at) && yields.some(({ rule, by }) => rule === loser.at && by === "trust") ? 1 : 0;
    },
  });
  return {
    formulas: at.formulas,
    settle(mask) {
      if (both.some((index) => mask(index) === FAILS)) return { leaf: 0 };
      const open = both.filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: at.formulas.map((_, i) => i).filter((i) => mask(i) !== 0), ask: open, signature: "" };
      if (both.some((index) => mask(index) !== HOLDS)) return { leaf: 0 };
      const settled = base.settle(mask);
      return "leaf" in settled ? settled : { ...settled, keep: [...new Set([...settled.keep, ...both])] };
    },
  };
}
