/**
 * A part of a `when` that changes nothing goes.
 *
 * Before (`changes-nothing`):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy and clarity is not clear
 * fall back on blade willow
 * ```
 * After (Take `clarity is not clear` out):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Test } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import type { Mend } from "./candidate.js";
import { patternNamed, replace, takeFromList, textIn } from "./edits.js";
import { nodesIn } from "./written-tests.js";

export const removePart: Mend = {
  codes: ["changes-nothing"],
  *candidates(view, { patterns = [], range }) {
    const when = patternNamed(view, patterns[0] ?? "")?.when;
    if (!when) return;
    const nodes = [...nodesIn(when)];
    const text = textIn(view, range);
    const holder = nodes.find(
      (node): node is Test & { readonly kind: "and" | "or" } =>
        (node.kind === "and" || node.kind === "or") && node.parts.some((part) => isThe(part, range)),
    );
    // A second part of the same words would be reported in its place.
    if (!holder || nodes.filter((node) => node.kind !== "parentheses" && textIn(view, node.range) === text).length > 1) return;
    const at = holder.parts.findIndex((part) => isThe(part, range));
    const around = nodes.find((node) => node.kind === "parentheses" && node.part === holder);
    // Of two, the other stands alone: without the parentheses around both.
    const edit =
      around && holder.parts.length === 2
        ? replace(view, around.range, textIn(view, holder.parts[1 - at]!.range))
        : takeFromList(view, holder.parts, at);
    yield { title: fixTitles.takeOut(fixTitles.part(text)), edits: [edit], preferred: true };
  },
};

/** The part itself, with or without its parentheses. */
function isThe(part: Test, range: Range): boolean {
  if (part.range.start === range.start && part.range.end === range.end) return true;
  return part.kind === "parentheses" && part.part !== undefined && isThe(part.part, range);
}
