/**
 * Patterns that beat each other in a circle: one of them no longer beats the next.
 *
 * Before (`circle`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   go with blade colorado
 *   when clarity is muddy
 *   beats "Flash"
 * pattern "Flash"
 *   go with blade willow
 *   beats "Thump"
 * ```
 * After (Let “Flash” no longer beat “Thump”):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   go with blade colorado
 *   when clarity is muddy
 *   beats "Flash"
 * pattern "Flash"
 *   go with blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { dropBeaten, patternNamed, whole } from "./edits.js";

export const breakCircle: Mend = {
  codes: ["circle"],
  *candidates(view, { patterns = [] }) {
    for (const title of patterns) {
      const pattern = patternNamed(view, title);
      for (const { value: other } of pattern?.beats ?? [])
        if (patterns.includes(other)) yield { title: fixTitles.breakCircle(title, other), edits: whole(dropBeaten(view, pattern!, other)) };
    }
  },
};
