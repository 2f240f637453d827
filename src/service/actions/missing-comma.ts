/**
 * Words that stand side by side in a list get the commas between them that were forgotten, where the statement can then be read.
 *
 * Before (`syntax`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass docks wood
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy and cover has wood
 * fall back on blade willow
 * ```
 * After (Write a comma before docks and wood):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks, wood
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy and cover has wood
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import { parse } from "../../syntax/parse.js";
import type { Mend } from "./candidate.js";
import { applied, insert } from "./edits.js";

export const missingComma: Mend = {
  codes: ["syntax"],
  *candidates(view, { range }) {
    const { path, text, parsed } = view;
    const line = /^[^\r\n]*/.exec(text.slice(range.start))![0];
    const [words] = /^[\p{L}\p{N}-]+(?:[ \t]+[\p{L}\p{N}-]+)*/u.exec(line) ?? [];
    const before = /[\p{L}\p{N}"”]([ \t]+)$/u.exec(text.slice(0, range.start));
    if (words === undefined || !before) return;
    const found = [...words.matchAll(/\S+/g)];
    // From all of them down to the first: some may belong to what comes after the list.
    for (let count = found.length; count > 0; count--) {
      const some = found.slice(0, count);
      const edits = some.map(({ index }) =>
        insert(view, range.start + index - /[ \t]*$/.exec(text.slice(0, range.start + index))![0].length, ","),
      );
      const after = applied(new Map([[path, text]]), edits).get(path)!;
      if (parse(after, path).findings.length < parsed.findings.length)
        return yield { title: fixTitles.comma(some.map(([word]) => word)), edits, preferred: true };
    }
  },
};
