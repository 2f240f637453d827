/**
 * A pattern that does nothing goes, and so do its mentions after `beats`. The same for one whose last day has gone by.
 *
 * Before (`does-nothing`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 *   beats "Never mind"
 * pattern "Clear water wants flash"
 *   go with blade willow
 *   when clarity is clear
 * fall back on blade willow because "In between."
 * pattern "Never mind"
 *   lean to blade willow
 *   when clarity is muddy
 * ```
 * After (Take “Never mind” out):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * pattern "Clear water wants flash"
 *   go with blade willow
 *   when clarity is clear
 * fall back on blade willow because "In between."
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { patternNamed, takeMentions, takeOut, whole } from "./edits.js";

export const removePattern: Mend = {
  codes: ["does-nothing", "stale"],
  *candidates(view, { code, patterns = [], range }) {
    const [title = ""] = patterns;
    const pattern = patternNamed(view, title);
    const isOver = pattern?.until?.range.start === range.start;
    if (pattern && (code === "does-nothing" || isOver))
      yield {
        title: fixTitles.takeOut(fixTitles.pattern(title)),
        edits: whole([takeOut(view, pattern), ...takeMentions(view, view.parsed.tree, title)]),
      };
  },
};
