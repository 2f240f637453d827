/**
 * An option that is never recommended goes, where nothing names it and nothing moves along the order in which it stands.
 *
 * Before (`never-recommended`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, indiana, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 * After (Take indiana out of the options of blade):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { statementsAt, takeFromList, takeOut, textIn } from "./edits.js";

export const takeOptionOut: Mend = {
  codes: ["never-recommended"],
  *candidates(view, { pick: name, range }) {
    const pick = view.model.picks.find((one) => one.name === name);
    if (!pick || view.model.patterns.some(({ moves }) => moves.some((move) => move.pick === pick.index))) return;
    for (const statement of statementsAt(view, range)) {
      if (statement.kind !== "pick" && statement.kind !== "judgement" && statement.kind !== "add") continue;
      const at = statement.options.findIndex((option) => option.range.start === range.start && option.range.end === range.end);
      if (at < 0) continue;
      const edit =
        statement.options.length > 1
          ? takeFromList(view, statement.options, at)
          : statement.kind === "add"
            ? takeOut(view, statement)
            : undefined;
      if (edit) yield { title: fixTitles.takeOptionOut(textIn(view, range), pick.name), edits: [edit] };
    }
  },
};
