/**
 * What is declared and never asked about goes: a situation, a group, a condition with its groups and bands, or bands of which none is
 * asked about.
 *
 * Before (`never-asked`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks
 * group cover: soft is grass
 * pick blade: colorado, willow
 * trust clarity first, then cover
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 * After (Take cover out):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * trust clarity first
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Statement, Trust } from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Mend } from "./candidate.js";
import { replace, takeOut, textIn } from "./edits.js";

export const removeUnasked: Mend = {
  codes: ["never-asked"],
  *candidates(view, { range }) {
    const { statements } = view.parsed.tree;
    const name = textIn(view, range);
    const holds = (one: Statement): boolean => one.range.start <= range.start && range.end <= one.range.end;
    const statement = statements.find(holds);
    if (statement?.kind === "situation" || statement?.kind === "group")
      yield { title: fixTitles.takeOut(name), edits: [takeOut(view, statement)] };
    if (statement?.kind === "condition") {
      const parts = statements.filter((one) => (one.kind === "band" || one.kind === "group") && one.condition?.text === name);
      yield {
        title: fixTitles.takeOut(name),
        edits: [
          ...[statement, ...parts].map((one) => takeOut(view, one)),
          ...statements.flatMap((one) => (one.kind === "trust" ? untrusted(view, one, name) : [])),
        ],
      };
    }
    if (statement?.kind === "band" && statement.condition) {
      const asked = statement.parts.some(
        (part) =>
          !view.findings.some((one) => one.code === "never-asked" && one.path === view.path && one.range.start === part.name.range.start),
      );
      if (!asked) yield { title: fixTitles.takeOut(fixTitles.bandsOf(statement.condition.text)), edits: [takeOut(view, statement)] };
    }
  },
};

function untrusted(view: View, statement: Trust, name: string): readonly Edit[] {
  const names = statement.order.map(({ text }) => text);
  const left = names.filter((text) => text !== name);
  if (left.length === names.length) return [];
  if (left.length === 0) return [takeOut(view, statement)];
  return [
    replace(
      view,
      { start: statement.order[0]!.range.start, end: statement.range.end },
      left.map((text, i) => (i === 0 ? `${text} first` : `then ${text}`)).join(", "),
    ),
  ];
}
