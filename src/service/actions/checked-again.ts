/**
 * What was checked long ago gets the day of today, as given; only whoever has checked it can say so, so no other action does this on
 * the side.
 *
 * Before (`stale`, on 2027-04-15):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 *   see "an invented notice" checked 2025-01-10
 * fall back on blade willow
 * ```
 * After (I have checked it: write checked 2027-04-15):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 *   see "an invented notice" checked 2027-04-15
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { patternNamed, replace } from "./edits.js";

export const checkedAgain: Mend = {
  codes: ["stale"],
  *candidates(view, { patterns = [], range }) {
    const { on } = view.model;
    const checked = patternNamed(view, patterns[0] ?? "")?.checked;
    if (on !== undefined && checked?.range.start === range.start)
      yield { title: fixTitles.checkedOn(on), edits: [replace(view, checked.range, on)] };
  },
};
