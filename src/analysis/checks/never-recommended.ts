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
import { leaves } from "../diagram.js";
import { flagged } from "../region.js";
import { decidedPicks, find, finding, type Context } from "./context.js";

export function neverRecommended(context: Context): Finding[] {
  const held = new Set(context.model.held.flatMap((broken) => broken.picks));
  return decidedPicks(context).flatMap((diagrams) => {
    const { pick } = diagrams.rules;
    if (pick.judgement || held.has(pick.index)) return [];
    const what = say.undecided.question(say.questions.neverRecommended(pick.name));
    return pick.options.flatMap(({ text }, option) => {
      const before = context.undecided.length;
      const somewhere = leaves(diagrams.local).some((leaf) => leaf.places.some((place) => place.includes(option))) &&
        find(context, what, (target) => flagged(diagrams.local, target, (leaf) => leaf.places.some((place) => place.includes(option)))) !== undefined;
      if (somewhere || context.undecided.length > before) return [];
      return [finding("never-recommended", pick.namePlace, say.neverRecommended(pick.name, text), { pick: pick.name })];
    });
  });
}
