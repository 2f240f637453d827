/**
 * The fixes that findings bring along: spelling, units, turned ranges, both readings of an `and` with an `or`, `beats` either way …
 *
 * Before (`name`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when claritty is muddy
 * fall back on blade willow
 * ```
 * After (Write clarity):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import { severities, type Code } from "../../diagnostics.js";
import type { Mend } from "./candidate.js";

export const carried: Mend = {
  codes: Object.keys(severities) as Code[],
  candidates: (_, { fixes = [] }) => fixes.map((fix, i) => ({ ...fix, ...(i === 0 && fixes.length === 1 && { preferred: true }) })),
};
