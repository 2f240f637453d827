/**
 * A path that leads to no book: the book of that name elsewhere, or the one whose path is nearest.
 *
 * Before (`file`), beside a book common/conditions.lore:
 * ```lore
 * builds on "conditions.lore"
 * pick blade: round, leaf
 * pattern "Mud wants a round blade"
 *   go with blade round
 *   when clarity is muddy
 * fall back on blade leaf
 * ```
 * After (Build on common/conditions.lore):
 * ```lore
 * builds on "common/conditions.lore"
 * pick blade: round, leaf
 * pattern "Mud wants a round blade"
 *   go with blade round
 *   when clarity is muddy
 * fall back on blade leaf
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import { nearest } from "../../suggest.js";
import { insideQuotes } from "../../text.js";
import type { Mend } from "./candidate.js";
import { replace, statementsAt } from "./edits.js";

export const rightPath: Mend = {
  codes: ["file"],
  *candidates(view, { range }, { paths = [] }) {
    for (const statement of statementsAt(view, range)) {
      if (statement.kind !== "builds on" || statement.path?.range.start !== range.start) continue;
      const written = statement.path.value.trim().replaceAll("\\", "/");
      const name = nameOf(written);
      const called = paths.filter((path) => nameOf(path) === name);
      const close = nearest(written, paths);
      const closeName = nearest(name, paths.map(nameOf));
      const likely = [...called, ...(close === undefined ? [] : [close]), ...paths.filter((path) => nameOf(path) === closeName)];
      // A book has no way to write a quotation mark inside a text.
      for (const path of new Set(likely.filter((one) => !one.includes('"'))))
        yield {
          title: fixTitles.buildOn(path),
          edits: [replace(view, insideQuotes(view.text, statement.path.range), path)],
          ...(called.length === 1 && path === called[0] && { preferred: true }),
        };
    }
  },
  enough: 3,
};

/** What a file is called, however it is spelled. */
function nameOf(path: string): string {
  return path
    .slice(path.lastIndexOf("/") + 1)
    .toLowerCase()
    .replace(/\.lore$/, "");
}
