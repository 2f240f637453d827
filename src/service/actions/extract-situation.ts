/**
 * A test that is written more than once gets a name, and the name stands wherever the test stood.
 *
 * Before (the selection in ‹ ›):
 * ```lore
 * condition sky: bright, dark
 * condition wind: 0 to 40 mph, to the nearest 1 mph
 * pick blade: colorado, willow
 * pattern "Chop wants thump"
 *   go with blade colorado
 *   when ‹wind is above 10 mph and sky is dark›
 * pattern "Hold the leaf back"
 *   lean off blade willow
 *   when wind is above 10 mph and sky is dark
 * fall back on blade willow
 * ```
 * After (Name this test wind-above-10-mph-and-sky-dark, in both places):
 * ```lore
 * condition sky: bright, dark
 * condition wind: 0 to 40 mph, to the nearest 1 mph
 * situation wind-above-10-mph-and-sky-dark: wind is above 10 mph and sky is dark
 * pick blade: colorado, willow
 * pattern "Chop wants thump"
 *   go with blade colorado
 *   when wind-above-10-mph-and-sky-dark
 * pattern "Hold the leaf back"
 *   lean off blade willow
 *   when wind-above-10-mph-and-sky-dark
 * fall back on blade willow
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Test } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";
import type { Rewrite } from "./candidate.js";
import { replace, statementsAt, textIn } from "./edits.js";
import { addDeclaration, freshName } from "./new-names.js";
import { holds, nodesIn, testsOf } from "./written-tests.js";

export const extractSituation: Rewrite = {
  kind: "refactor.extract",
  *candidates(view, selection) {
    const own = view.parsed.tree.statements
      .filter((statement) => !view.parsed.broken.has(statement))
      .flatMap(testsOf)
      .flatMap((test) => [...pieces(view, test)]);
    const offered = new Set<string>();
    for (const piece of statementsAt(view, selection)
      .flatMap(testsOf)
      .flatMap((test) => [...pieces(view, test)])) {
      if (!holds(piece, selection) || offered.has(piece.text) || piece.text.includes("--")) continue;
      offered.add(piece.text);
      const places = apart(own.filter(({ text }) => text === piece.text));
      if (places.length < 2) continue;
      const name = freshName(view, piece.text);
      yield {
        title: fixTitles.situation(name, places.length),
        edits: [addDeclaration(view, `situation ${name}: ${piece.text}`), ...places.map(({ range }) => replace(view, range, name))],
        name,
      };
    }
  },
};

/** A stretch of a test that is a test of its own. */
interface Piece {
  readonly text: string;
  readonly range: Range;
}

/** Every operand and every run of operands, the longest first. What stands in parentheses takes them along. */
function* pieces(view: View, test: Test): Generator<Piece> {
  for (const node of nodesIn(test)) {
    if (node.kind === "and" || node.kind === "or") {
      const { parts } = node;
      for (let length = parts.length - 1; length >= 2; length--)
        for (let i = 0; i + length <= parts.length; i++)
          yield piece(view, { start: parts[i]!.range.start, end: parts[i + length - 1]!.range.end });
      if (node === test) yield piece(view, node.range);
    } else if (node.kind === "parentheses" && node.part) yield { ...piece(view, node.part.range), range: node.range };
    else if (node.kind === "compare" || node.kind === "not") yield piece(view, node.range);
  }
}

function piece(view: View, range: Range): Piece {
  return { text: textIn(view, range).replace(/\s+/g, " "), range };
}

/** Without those that lie in one before. */
function apart(places: readonly Piece[]): readonly Piece[] {
  const sorted = [...places].sort((a, b) => a.range.start - b.range.start || b.range.end - a.range.end);
  return sorted.filter(({ range }, i) => sorted.slice(0, i).every((before) => before.range.end <= range.start));
}
