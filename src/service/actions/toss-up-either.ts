/**
 * A toss-up that is meant: a pattern says that either will do.
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
 * After (Say that colorado or willow will do):
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
 *
 * pattern "Here colorado or willow will do"
 *   go with blade colorado or willow
 *   when clarity is muddy
 * ```
 */
import { answersAt } from "../../analysis/point.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Mend } from "./candidate.js";
import { addAtEnd } from "./edits.js";
import { optionWords, pointOf, unusedTitle, whenClause } from "./points.js";

export const tossUpEither: Mend = {
  codes: ["toss-up"],
  *candidates(view, { pick: name, where, example }) {
    const { model } = view;
    const pick = model.picks.find((one) => one.name === name);
    const point = pick && example && pointOf(view, example);
    if (!pick || !point || where === undefined) return;
    const front = answersAt(model, point)[pick.index]!.outcome.places[0] ?? [];
    const options = [...front].sort((a, b) => a - b).map((option) => optionWords(pick, option));
    const title = unusedTitle(view, fixTitles.eitherTitle(options.map((option) => option.replace(/"/g, ""))));
    yield {
      title: fixTitles.either(options),
      edits: [addAtEnd(view, `pattern "${title}"\n  go with ${pick.name} ${options.join(" or ")}${whenClause(where)}`)],
    };
  },
};
