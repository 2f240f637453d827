/**
 * What can be folded away: statements and tests in parentheses of several lines, runs of `builds on`, and comments of several lines.
 *
 *     pattern "Mud wants thump"  …           -- What the water is like: what a customer  …
 */
import type * as tree from "../syntax/tree.js";
import type { Range } from "../text.js";
import type { View } from "./view.js";

export interface Fold {
  /** Its first line stays in sight. */
  readonly range: Range;
  readonly kind: "statement" | "test" | "books" | "comment";
}

/** By where they start. */
export function foldsOf({ text, lines, parsed }: Pick<View, "text" | "lines" | "parsed">): readonly Fold[] {
  const { statements, comments } = parsed.tree;
  const folds: Fold[] = [
    ...statements.map(({ range }): Fold => ({ kind: "statement", range })),
    ...statements.flatMap(parenthesesIn).map(({ range }): Fold => ({ kind: "test", range })),
    ...runs(
      statements.map(({ kind, range }) => (kind === "builds on" ? range : undefined)),
      () => true,
    )
      .filter((range) => !statements.some((one) => one.range.start === range.start && one.range.end === range.end))
      .map((range): Fold => ({ kind: "books", range })),
    ...runs(
      comments.map(({ range }) => (isAlone(text, range) ? range : undefined)),
      (a, b) => lines.position(b.start).line === lines.position(a.end).line + 1,
    ).map((range): Fold => ({ kind: "comment", range })),
  ];
  return folds
    .filter(({ range }) => lines.position(range.end).line > lines.position(range.start).line)
    .sort((a, b) => a.range.start - b.range.start || b.range.end - a.range.end);
}

/** Neighbors that belong together, from the first's start to the last's end. */
function runs(parts: readonly (Range | undefined)[], belong: (a: Range, b: Range) => boolean): Range[] {
  const joined: Range[] = [];
  let last: Range | undefined;
  for (const part of parts) {
    if (part !== undefined && last !== undefined && belong(last, part)) joined.push({ start: joined.pop()!.start, end: part.end });
    else if (part !== undefined) joined.push(part);
    last = part;
  }
  return joined;
}

/** Does a comment have its line to itself? */
function isAlone(text: string, { start }: Range): boolean {
  return /(?:^|[\r\n])[^\S\r\n]*$/.test(text.slice(Math.max(0, start - 200), start));
}

function parenthesesIn(statement: tree.Statement): tree.Test[] {
  const found: tree.Test[] = [];
  const visit = (test: tree.Test | undefined): void => {
    if (test?.kind === "parentheses") found.push(test);
    if (test?.kind === "and" || test?.kind === "or") test.parts.forEach(visit);
    else if (test?.kind === "not" || test?.kind === "parentheses") visit(test.part);
  };
  if ("when" in statement) visit(statement.when);
  if ("test" in statement) visit(statement.test);
  if ("onlyWhen" in statement) visit(statement.onlyWhen);
  return found;
}
