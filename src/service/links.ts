/**
 * What can be followed in a book: the paths of the books it builds on, and addresses in its sources.
 *
 *     builds on "⟨common/conditions.lore⟩"          see "NIST SP 811, ⟨https://…⟩"
 */
import { besides } from "../paths.js";
import { isBlank } from "../syntax/concrete.js";
import type * as tree from "../syntax/tree.js";
import { insideQuotes, type Range } from "../text.js";
import type { View } from "./view.js";

export type Link =
  /** `path` is relative to where the path of the viewed book is relative to. Nobody has looked whether there is such a book. */
  | { readonly kind: "book"; readonly range: Range; readonly path: string }
  | { readonly kind: "address"; readonly range: Range; readonly address: string };

export function linksOf({ path, text, parsed }: Pick<View, "path" | "text" | "parsed">): readonly Link[] {
  return parsed.tree.statements.flatMap((statement): Link[] => {
    if (statement.kind === "builds on" && statement.path !== undefined && !isBlank(statement.path.value)) {
      return [{ kind: "book", range: insideQuotes(text, statement.path.range), path: besides(path, statement.path.value) }];
    }
    return statement.kind === "pattern" || statement.kind === "caution" ? statement.see.flatMap((source) => addressesIn(text, source)) : [];
  });
}

/** Web addresses; what ends the sentence around one does not belong to it, nor does a bracket that opened before it. */
function addressesIn(text: string, source: tree.Text): Link[] {
  const { start, end } = insideQuotes(text, source.range);
  return [...text.slice(start, end).matchAll(/https?:\/\/[^\s<>"“”]+/gi)].map((match) => {
    const whole = match[0].replace(/[.,;:!?'’]+$/, "");
    const address = whole.endsWith(")") && !whole.includes("(") ? whole.slice(0, -1) : whole;
    return { kind: "address", range: { start: start + match.index, end: start + match.index + address.length }, address };
  });
}
