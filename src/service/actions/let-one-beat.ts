/**
 * Where three or more patterns disagree, or two come out level: one of them beats the others. (Of two that disagree the finding itself
 * brings both ways along.)
 *
 * Before (`toss-up`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   lean to blade colorado
 *   when clarity is muddy
 * pattern "Flash"
 *   lean to blade willow
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 * After (Let “Thump” beat “Flash”):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   lean to blade colorado
 *   when clarity is muddy
 *   beats "Flash"
 * pattern "Flash"
 *   lean to blade willow
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import type { Mend } from "./candidate.js";
import { beating, patternNamed } from "./edits.js";

export const letOneBeat: Mend = {
  codes: ["conflict", "toss-up"],
  *candidates(view, { patterns = [], fixes = [] }) {
    if (patterns.length < 2 || fixes.length > 0) return;
    for (const winner of patterns) {
      const pattern = patternNamed(view, winner);
      if (pattern)
        yield* beating(
          view,
          pattern,
          patterns.filter((title) => title !== winner),
        );
    }
  },
};
