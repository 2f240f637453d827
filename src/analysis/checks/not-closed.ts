/**
 * Go withs that are heard where a less local book says nothing on everything: closed is closed, unless somebody means just that.
 *
 * Accepted:
 * ```lore
 * condition day: days of the year
 * pick lure: spoon, jig
 * say nothing on everything when day from feb 1 to feb 20 because "Closed by the county."
 * pattern "Winter jig" go with lure jig when day from jan 1 to feb 28
 * fall back on lure spoon
 * ```
 * Rejected (`not-closed`):
 * ```lore
 * -- county.lore
 * book "County"
 * condition day: days of the year
 * pick lure: spoon, jig
 * say nothing on everything when day from feb 1 to feb 20 because "Closed by the county."
 * fall back on lure spoon
 * -- shop.lore
 * book "Shop"
 * builds on "county.lore"
 * pattern "Winter jig" go with lure jig when day from jan 1 to feb 28
 * ```
 */
import type { Finding } from "../../diagnostics.js";
import { analysisWords } from "../../messages/analysis.js";
import type { SayNothing } from "../../model/model.js";
import type { PickDiagrams } from "../answers.js";
import { decide, whether } from "../diagrams/decide.js";
import { conjoined, flagged } from "../diagrams/region.js";
import type { Rule } from "../rules.js";
import { decidedPicks, find, finding, whereabouts, type Check, type Context } from "./context.js";

export function* notClosed(context: Context): ReturnType<Check> {
  for (const silence of context.model.closed)
    for (const diagrams of decidedPicks(context))
      for (const rule of diagrams.rules.pick.judgement ? [] : diagrams.rules.rules) {
        if (!rule.goes || !context.model.moreLocal(rule.pattern.book, silence.book)) continue;
        yield heard(context, silence, diagrams, rule);
      }
}

function heard(context: Context, silence: SayNothing, { rules: { pick }, local }: PickDiagrams, rule: Rule): Finding | undefined {
  const { answers } = context;
  const { title, namePlace } = rule.pattern;
  const asked = {
    picks: [pick.index],
    key: `not closed ${rule.at} ${answers.prints.test(silence.when)}`,
    question: analysisWords.questions.notClosed(title),
    place: namePlace,
  };
  const found = find(context, asked, (target, spend) =>
    conjoined(
      [
        flagged(local, target, ({ standing }) => standing.includes(rule.at)),
        decide(answers.store, whether(answers.compile(silence.when)), target, spend),
      ],
      target,
      answers.variables,
    ),
  );
  if (!found) return undefined;
  return finding(
    "not-closed",
    namePlace,
    analysisWords.notClosed(title, pick.name, { where: found.where.text, example: found.example, share: found.share }),
    {
      pick: pick.name,
      patterns: [title],
      ...whereabouts(found),
      related: [{ ...silence.place, message: analysisWords.relatedClosed }],
    },
  );
}
