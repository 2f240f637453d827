/**
 * Options that come out level because of how patterns list them: one is put first, with the others right behind it.
 *
 * Before (`toss-up`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado, then willow
 *   when clarity is muddy
 * pattern "Sun wants flash"
 *   go with blade willow, then colorado
 *   when sky is bright
 * fall back on blade colorado
 * ```
 * After (Put colorado first in “Sun wants flash”):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado, then willow
 *   when clarity is muddy
 * pattern "Sun wants flash"
 *   go with blade colorado, then willow
 *   when sky is bright
 * fall back on blade colorado
 * ```
 */
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { GoWith, Value } from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Mend } from "./candidate.js";
import { patternNamed, replace, textIn } from "./edits.js";

export const tossUpOrder: Mend = {
  codes: ["toss-up"],
  *candidates(view, { pick, patterns = [] }) {
    const lists = patterns.flatMap((title) => {
      const go = patternNamed(view, title)?.actions.find(
        (action): action is GoWith => action.kind === "go with" && action.pick?.text === pick,
      );
      return go && go.places.length > 0 ? [{ title, go }] : [];
    });
    const options = [...new Set(lists.flatMap(({ go }) => go.places.flat().map((value) => textOf(view, value))))];
    for (const option of options) {
      const changed = lists.flatMap(({ title, go }) => {
        const edit = firstIn(view, go, option);
        return edit ? [{ title, edit }] : [];
      });
      for (const { title, edit } of changed) yield { title: fixTitles.first(option, [title]), edits: [edit] };
      if (changed.length > 1)
        yield {
          title: fixTitles.first(
            option,
            changed.map(({ title }) => title),
          ),
          edits: changed.map(({ edit }) => edit),
        };
    }
  },
};

/** The list with an option it has alone in its first place; undefined where it has not got it, or there already. */
export function firstIn(view: View, { places }: GoWith, option: string): Edit | undefined {
  const texts = places.map((place) => place.map((value) => textOf(view, value)));
  if (!texts.flat().includes(option) || (texts[0]!.length === 1 && texts[0]![0] === option)) return undefined;
  const rest = texts.map((place) => place.filter((text) => text !== option)).filter((place) => place.length > 0);
  return replace(
    view,
    { start: places[0]![0]!.range.start, end: places.at(-1)!.at(-1)!.range.end },
    [[option], ...rest].map((place) => place.join(" or ")).join(", then "),
  );
}

export function textOf(view: View, { range }: Value): string {
  return textIn(view, range).replace(/\s+/g, " ");
}
