/**
 * A gap for which the finding brings no pattern along, because what may be ruled out or moved there leaves no option that is sure to
 * stand: each option is tried.
 *
 * Before (`gap`):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick weight: 1/4 oz, 3/8 oz, 1/2 oz
 * pattern "Mud wants weight"
 *   go with weight 1/2 oz
 *   when clarity is muddy
 * pattern "Light in clear water"
 *   never weight 1/2 oz
 *   when clarity is clear
 * pattern "A step up"
 *   move weight up 1
 *   when clarity is not muddy
 * ```
 * After (Add a pattern that goes with weight 1/4 oz here):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick weight: 1/4 oz, 3/8 oz, 1/2 oz
 * pattern "Mud wants weight"
 *   go with weight 1/2 oz
 *   when clarity is muddy
 * pattern "Light in clear water"
 *   never weight 1/2 oz
 *   when clarity is clear
 * pattern "A step up"
 *   move weight up 1
 *   when clarity is not muddy
 *
 * pattern "Fills the gap in weight"
 *   go with weight 1/4 oz
 *   when clarity is clear or stained
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { addAtEnd } from "./edits.js";
import { optionWords, unusedTitle, whenClause } from "./points.js";

export const fillGap: Mend = {
  codes: ["gap"],
  enough: 3,
  *candidates(view, { pick: name, where, fixes = [] }) {
    const pick = view.model.picks.find((one) => one.name === name);
    if (!pick || where === undefined || fixes.length > 0) return;
    const title = unusedTitle(view, fixTitles.fillTitle(pick.name));
    for (const { index, text } of pick.options.map((_, index) => ({ index, text: optionWords(pick, index) })))
      yield {
        title: fixTitles.fill(pick.name, text),
        edits: [addAtEnd(view, `pattern "${title}"\n  go with ${pick.name} ${optionWords(pick, index)}${whenClause(where)}`)],
      };
  },
};
