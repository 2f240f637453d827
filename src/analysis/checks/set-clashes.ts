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
import { analysisWords } from "../../messages/analysis.js";
import { axesIn } from "../../model/atoms.js";
import type { Askable } from "../answers.js";
import { decide, keeping, type Question } from "../diagrams/decide.js";
import { FAILS, HOLDS, oneBit } from "../diagrams/formula.js";
import { meet, meeting, subset } from "../neighbours.js";
import { constantsOf, pickFormulas, pickQuestion } from "../pick-question.js";
import type { Rule } from "../rules.js";
import { silencedBook, verdict, type Yield } from "../verdict.js";
import { beatsFixes } from "./conflicts.js";
import { askablePicks, find, finding, recalled, saysOf, whereabouts, type Check, type Context } from "./context.js";
import { overruling, type Overruling } from "./overruling.js";

export function* setClashes(context: Context): ReturnType<Check> {
  for (const diagrams of askablePicks(context)) {
    yield;
    const over = overruling(context.answers, diagrams);
    for (const pair of recalled(context, [diagrams.rules.pick.index], "set clashes", () => pairs(context, diagrams)))
      yield reportClash(context, diagrams, over, pair);
  }
}

function reportClash(
  context: Context,
  diagrams: Askable,
  over: Overruling,
  { winner: first, loser: second, set }: Pair,
): Finding | undefined {
  const { rules } = diagrams;
  const { pick } = rules;
  const [winner, loser] = [rules.rules[first]!, rules.rules[second]!];
  const asked = {
    picks: [pick.index],
    key: `set clash ${first} ${second}`,
    question: analysisWords.questions.setClash(pick.name),
    place: pick.namePlace,
  };
  const found = find(context, asked, (target, spend) =>
    decide<number>(context.answers.store, clashQuestion(context, diagrams, over, winner, loser), target, spend),
  );
  if (!found) return undefined;
  const saying = analysisWords.setClash(
    context.model.conditions[set]!.name,
    { title: winner.pattern.title, says: saysOf(pick, winner) },
    { title: loser.pattern.title, says: saysOf(pick, loser) },
    { where: found.where.text, example: found.example, share: found.share },
  );
  return finding("set-clash", loser.pattern.namePlace, saying, {
    pick: pick.name,
    patterns: [winner.pattern.title, loser.pattern.title],
    ...whereabouts(found),
    related: [{ ...winner.pattern.namePlace, message: analysisWords.relatedPattern(winner.pattern.title) }],
    fixes: beatsFixes(context, rules, winner, loser),
  });
}

/** Places of two rules that only trust can tell apart, and the set they share. */
interface Pair {
  readonly winner: number;
  readonly loser: number;
  readonly set: number;
}

function pairs(context: Context, { rules, hull }: Askable): readonly Pair[] {
  const found: Pair[] = [];
  const sets = context.model.conditions.filter((condition) => condition.domain.kind === "set");
  if (sets.length === 0) return found;
  const members = rules.rules.map((rule) => new Set(axesIn(rule.pattern.when)));
  for (const winner of rules.rules)
    for (const loser of rules.rules) {
      if (winner === loser || !winner.goes || !loser.goes || [...winner.goesTo].some((option) => loser.goesTo.has(option))) continue;
      const [mine, others] = [members[winner.at]!, members[loser.at]!];
      const set = sets.find(
        (condition) =>
          condition.axes.some((axis) => mine.has(axis) && !others.has(axis)) &&
          condition.axes.some((axis) => others.has(axis) && !mine.has(axis)),
      );
      if (
        !set ||
        !meet(hull(winner), hull(loser)) ||
        rules.byTrust(winner, loser) >= 0 ||
        winner.beats.includes(loser.at) ||
        loser.beats.includes(winner.at)
      )
        continue;
      found.push({ winner: winner.at, loser: loser.at, set: set.index });
    }
  return found;
}

/** 1 where both speak, the winner stands, and the loser was dropped by trust and nothing else. */
function clashQuestion(context: Context, { rules: all, hull }: Askable, over: Overruling, first: Rule, second: Rule): Question<number> {
  const involved = over.involved([first], [second], meeting(hull(first), hull(second)));
  const chosen = all.rules.filter((rule) => involved.has(rule));
  const rules = subset(all, chosen);
  const place = new Map(chosen.map((rule, i) => [rule, i]));
  const [winner, loser] = [place.get(first)!, place.get(second)!];
  const at = pickFormulas(rules, context.answers.compile);
  const both = [at.rule(winner), at.rule(loser)];
  const rivals = [...over.any(first), ...over.early(second)].filter((rule) => place.has(rule));
  const base = pickQuestion<number>(context.model, rules, at, {
    watched: new Set([winner, loser]),
    leafOf(situation) {
      const yields: Yield[] = [];
      const result = verdict(rules, situation, silencedBook(rules, situation, context.model.moreLocal), (yielded) => yields.push(yielded));
      return result.standing.includes(winner) && yields.some(({ rule, by }) => rule === loser && by === "trust") ? 1 : 0;
    },
  });
  return {
    formulas: at.formulas,
    settle(state) {
      const { live, mask } = state;
      if (both.some((index) => mask(index) === FAILS)) return { leaf: 0 };
      const open = both.filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: live, ask: open, signature: constantsOf(live, mask) };
      if (both.some((index) => mask(index) !== HOLDS)) return { leaf: 0 };
      if (all.pick.sayNothing.length === 0 && over.dropped(rivals, (rule) => (place.has(rule) ? mask(at.rule(place.get(rule)!)) : 0)))
        return { leaf: 0 };
      const settled = base.settle(state);
      return "leaf" in settled ? settled : { ...settled, keep: keeping(settled.keep, both) };
    },
  };
}
