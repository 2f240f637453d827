/**
 * A pick waits because another may be either of two options: one of them is put first.
 *
 * Before (`waiting`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick bait: spinnerbait, jig
 * pick blade: colorado, willow
 * pattern "Either will do in mud"
 *   go with bait spinnerbait or jig
 *   when clarity is muddy
 * fall back on bait jig
 * pattern "A spinnerbait wants thump"
 *   go with blade colorado
 *   when bait is spinnerbait
 * fall back on blade willow
 * ```
 * After (Put spinnerbait first in “Either will do in mud”):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick bait: spinnerbait, jig
 * pick blade: colorado, willow
 * pattern "Either will do in mud"
 *   go with bait spinnerbait, then jig
 *   when clarity is muddy
 * fall back on bait jig
 * pattern "A spinnerbait wants thump"
 *   go with blade colorado
 *   when bait is spinnerbait
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Pattern } from "../../syntax/tree.js";
import type { Mend } from "./candidate.js";
import { firstIn, textOf } from "./toss-up-order.js";

export const waitingOrder: Mend = {
  codes: ["waiting"],
  enough: 6,
  *candidates(view, { pick: name }) {
    const { model, parsed } = view;
    const tested = new Set(model.picks.find((one) => one.name === name)?.tests.map((pick) => model.picks[pick]!.name));
    for (const pattern of parsed.tree.statements.filter((one): one is Pattern => one.kind === "pattern" && !parsed.broken.has(one)))
      for (const action of pattern.actions) {
        if (action.kind !== "go with" || action.pick === undefined || !tested.has(action.pick.text) || (action.places[0]?.length ?? 0) < 2)
          continue;
        for (const value of action.places[0]!) {
          const option = textOf(view, value);
          const edit = firstIn(view, action, option);
          if (edit) yield { title: fixTitles.first(option, [pattern.title?.value ?? ""]), edits: [edit] };
        }
      }
  },
};
