/**
 * Options that no possible conditions bring into any answer, not even as a second choice.
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
import type { Finding } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import { findPossible } from "../answers.js";
import { within } from "../budget.js";
import { boxes, leaves, type Node } from "../diagram.js";
import type { Verdict } from "../verdict.js";
import { decidedPicks, finding, fresh, optionPlace, unsettledPicks, type Context } from "./context.js";

export function neverRecommended(context: Context): Finding[] {
  const unsettled = unsettledPicks(context);
  return decidedPicks(context).flatMap((diagrams) => {
    const { pick } = diagrams.rules;
    if (pick.judgement || unsettled.has(pick.index)) return [];
    const lists = leaves(diagrams.local).filter(({ places }) => places.length > 0);
    return pick.options.flatMap(({ text }, option) => {
      const there = (places: Verdict["places"]): boolean => places.some((place) => place.includes(option));
      const somewhere = within(() => lists.some(({ places }) => there(places)) && holdsSomewhere(context, diagrams.local, (leaf) => there(leaf.places)));
      if (somewhere === undefined) context.undecided.push({ what: say.undecided.question(say.questions.neverRecommended(pick.name)), place: pick.namePlace });
      return somewhere === false ? [finding("never-recommended", optionPlace(context.model, pick, option), say.neverRecommended(pick.name, text), { pick: pick.name })] : [];
    });
  });
}

/** Whether some possible point has a wanted leaf. */
function holdsSomewhere<L>(context: Context, node: Node<L>, wanted: (leaf: L) => boolean): boolean {
  const spend = fresh(context);
  for (const { box } of boxes(node, context.answers.variables, wanted)) if (findPossible(context.answers, box, spend)) return true;
  return false;
}
