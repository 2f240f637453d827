/**
 * Options that no possible conditions bring into any answer, not even as a second choice. A pick on which nothing speaks yet has a gap
 * everywhere, and that is said once, not again of each option.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * ```
 * Rejected (`never-recommended`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, indiana, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * ```
 */
import { analysisWords } from "../../messages/analysis.js";
import { findPossible } from "../answers.js";
import { withinBudget } from "../budget.js";
import { boxes, reaches, type Node } from "../diagrams/diagram.js";
import type { Verdict } from "../verdict.js";
import { decidedPicks, finding, fresh, optionPlace, recalled, unsettledPicks, type Check, type Context } from "./context.js";

export function* neverRecommended(context: Context): ReturnType<Check> {
  const unsettled = unsettledPicks(context);
  for (const {
    rules: { pick, rules },
    local,
  } of decidedPicks(context)) {
    if (pick.judgement || unsettled.has(pick.index)) continue;
    if (rules.length === 0 && !pick.fallBack && !pick.sameAs && pick.sayNothing.every(({ everything }) => everything)) continue;
    for (const [option, { text }] of pick.options.entries()) {
      yield;
      const there = ({ places }: Verdict): boolean => places.some((place) => place.includes(option));
      const somewhere = recalled(context, [pick.index], `recommended ${option}`, () =>
        withinBudget(() => reaches(local, there) && holdsSomewhere(context, local, there)),
      );
      if (somewhere === undefined)
        context.undecided.push({
          what: analysisWords.undecided.question(analysisWords.questions.neverRecommended(pick.name)),
          place: pick.namePlace,
        });
      if (somewhere === false)
        yield finding("never-recommended", optionPlace(context.model, pick, option), analysisWords.neverRecommended(pick.name, text), {
          pick: pick.name,
        });
    }
  }
}

/** Whether some possible point has a wanted leaf. */
function holdsSomewhere<L>(context: Context, node: Node<L>, wanted: (leaf: L) => boolean): boolean {
  const spend = fresh(context);
  for (const { box } of boxes(node, context.answers.variables, wanted)) if (findPossible(context.answers, box, spend)) return true;
  return false;
}
