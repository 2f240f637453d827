/** Walking the tests that are written in a book. */
import type { Test as BoundTest } from "../../model/model.js";
import type { Statement, Test } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";

/** The tests of a statement. */
export function testsOf(statement: Statement): readonly Test[] {
  const test =
    statement.kind === "situation"
      ? statement.test
      : statement.kind === "pick" || statement.kind === "judgement"
        ? statement.onlyWhen
        : "when" in statement
          ? statement.when
          : undefined;
  return test ? [test] : [];
}

/** A test and all that it is made of. */
export function* nodesIn(test: Test): Generator<Test> {
  yield test;
  if (test.kind === "and" || test.kind === "or") for (const part of test.parts) yield* nodesIn(part);
  else if ((test.kind === "not" || test.kind === "parentheses") && test.part) yield* nodesIn(test.part);
}

/** Whether a selection lies within a node. */
export function holds({ range }: { readonly range: Range }, { start, end }: Range): boolean {
  return range.start <= start && end <= range.end;
}

/** The bound tests of the book itself, by where they are written: `start-end`. */
export function boundTests({ model, path }: View): ReadonlyMap<string, BoundTest> {
  const own = model.books.length - 1;
  const found = new Map<string, BoundTest>();
  const add = (test: BoundTest | undefined): void => {
    if (!test) return;
    const key = placeKey(test.range);
    if (!found.has(key)) found.set(key, test);
    if (test.kind === "not") add(test.part);
    else if (test.kind === "and" || test.kind === "or") test.parts.forEach(add);
  };
  for (const { test, place } of model.situations) if (place.path === path) add(test);
  for (const { when, place } of [...model.impossible, ...model.patterns, ...model.cautions, ...model.promises])
    if (place.path === path) add(when);
  for (const { onlyWhen, sayNothing, book } of model.picks) {
    if (book === own) add(onlyWhen);
    for (const silence of sayNothing) if (silence.book === own) add(silence.when);
  }
  return found;
}

export function placeKey({ start, end }: Range): string {
  return `${start}-${end}`;
}
