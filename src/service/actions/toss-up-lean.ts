/**
 * Leans that weigh the same: one of them weighs more.
 *
 * Before (`toss-up`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   lean to blade colorado by 2
 *   when clarity is muddy
 * pattern "Flash"
 *   lean to blade willow by 2
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 * After (Let “Flash” lean to willow by 3):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump"
 *   lean to blade colorado by 2
 *   when clarity is muddy
 * pattern "Flash"
 *   lean to blade willow by 3
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import { readNumber } from "../../model/quantities.js";
import type { Lean } from "../../syntax/tree.js";
import type { Mend } from "./candidate.js";
import { insert, patternNamed, replace, textIn } from "./edits.js";

export const tossUpLean: Mend = {
  codes: ["toss-up"],
  *candidates(view, { pick, patterns = [] }) {
    for (const title of [...patterns].reverse())
      for (const lean of patternNamed(view, title)?.actions ?? []) {
        if (lean.kind !== "lean to" || lean.pick?.text !== pick || lean.options.length === 0) continue;
        const by = lean.by === undefined ? "2" : readNumber(lean.by.number)?.value.add(1).toFraction(true);
        if (by === undefined) continue;
        const edit = lean.by === undefined ? insert(view, lean.options.at(-1)!.range.end, ` by ${by}`) : replace(view, lean.by.range, by);
        yield { title: fixTitles.leanMore(title, optionsOf(lean).join(", "), by), edits: [edit] };
      }
    function optionsOf({ options }: Lean): readonly string[] {
      return options.map(({ range }) => textIn(view, range));
    }
  },
};
