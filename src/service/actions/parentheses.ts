/**
 * `and` with `or`: the one reading written with parentheses, or with a comma before the last `or`; and parentheses that change nothing
 * taken out. (Where it could be heard two ways the finding brings both readings along.)
 *
 * Before (the selection in ‹ ›):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * condition wind: calm, windy
 * pick blade: colorado, willow
 * pattern "Mud or dusk wants thump"
 *   go with blade colorado
 *   when clarity is muddy and sky is ‹dark›, or wind is windy
 * fall back on blade willow
 * ```
 * After (Write it with parentheses):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * condition wind: calm, windy
 * pick blade: colorado, willow
 * pattern "Mud or dusk wants thump"
 *   go with blade colorado
 *   when (clarity is muddy and sky is dark) or wind is windy
 * fall back on blade willow
 * ```
 */
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Test } from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Rewrite } from "./candidate.js";
import { insert, replace, statementsAt } from "./edits.js";
import { holds, nodesIn, testsOf } from "./written-tests.js";

export const parentheses: Rewrite = {
  kind: "refactor.rewrite",
  *candidates(view, selection) {
    for (const test of statementsAt(view, selection).flatMap(testsOf))
      for (const node of nodesIn(test)) {
        if (!holds(node, selection)) continue;
        if (node.kind === "or" && node.parts.some(({ kind }) => kind === "and"))
          yield { title: fixTitles.withParentheses, edits: parenthesized(view, node) };
        if (node.kind === "or" && mayHaveComma(node)) yield { title: fixTitles.withComma, edits: withComma(view, node) };
        if (node.kind === "parentheses" && node.part) yield { title: fixTitles.withoutParentheses, edits: without(view, node) };
      }
  },
};

type Or = Test & { readonly kind: "and" | "or" };

/** Parentheses around each `and`; the comma before an `or` goes. */
function parenthesized(view: View, { parts }: Or): readonly Edit[] {
  return parts.flatMap((part, i) => {
    const next = parts[i + 1];
    const comma = next ? /^\s*,/.exec(view.text.slice(part.range.end, next.range.start)) : null;
    return [
      ...(part.kind === "and" ? [insert(view, part.range.start, "("), insert(view, part.range.end, ")")] : []),
      ...(comma ? [replace(view, { start: part.range.end, end: part.range.end + comma[0].length }, "")] : []),
    ];
  });
}

/** On either side of the last `or` there stand only `and`s or only `or`s. */
function mayHaveComma({ parts }: Or): boolean {
  const [left, last] = [parts.slice(0, -1), parts.at(-1)!];
  return (isAnd(last) && left.every(isPlain)) || (left.length === 1 && isAnd(left[0]!) && (isAnd(last) || isPlain(last)));
}

function isAnd(test: Test): boolean {
  return test.kind === "parentheses" && test.part?.kind === "and";
}

function isPlain(test: Test): boolean {
  return test.kind !== "and" && test.kind !== "or" && !isAnd(test);
}

function withComma(view: View, { parts }: Or): readonly Edit[] {
  return [...parts.filter(isAnd).flatMap((part) => without(view, part)), insert(view, parts.at(-2)!.range.end, ",")];
}

/** The parenthesis signs themselves. */
function without(view: View, { range }: Test): readonly Edit[] {
  return [replace(view, { start: range.start, end: range.start + 1 }, ""), replace(view, { start: range.end - 1, end: range.end }, "")];
}
