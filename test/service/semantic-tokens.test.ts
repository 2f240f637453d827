/** What each word is colored as. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { semanticTokenModifiers, semanticTokens, semanticTokenTypes } from "../../src/service/semantic-tokens.js";
import type { View } from "../../src/service/view.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { open, shippedBooks } from "./marks.js";

/** Each token in its line, with what it is. */
const shown = (view: View, within?: { readonly start: number; readonly end: number }): string[] =>
  semanticTokens(view, within).map(({ range, type, modifiers }) =>
    [view.text.slice(range.start, range.end), type, ...modifiers].join(" | "),
  );

test("names by what they stand for, the rest by what it is", () => {
  const { view } = open({
    "base.lore": `pattern "Old" go with blade round\npick blade: round, leaf`,
    "book.lore": `book "Ours" builds on "base.lore" leave out "Old" -- why
condition clarity: in order clear, dirty rising is dirtier, falling is clearer
condition depth: 0 to 40 ft
band depth: shallow below 1.5 m, deep
situation low: clarity is clear or dirtier
pick weight: 1/4 oz, "half an ounce"
pattern "Mud" go
  with blade round when low and depth is shallow and blur is clear checked 2027-03-01`,
  });
  expect(shown(view)).toEqual([
    "book | keyword",
    `"Ours" | namespace | declaration`,
    "builds on | keyword",
    `"base.lore" | string`,
    "leave out | keyword",
    `"Old" | class | deprecated`,
    "-- why | comment",
    "condition | keyword",
    "clarity | variable | declaration",
    "in order | keyword",
    "clear | enumMember | declaration",
    "dirty | enumMember | declaration",
    "rising is | keyword",
    "dirtier | operator | declaration",
    "falling is | keyword",
    "clearer | operator | declaration",
    "condition | keyword",
    "depth | variable | declaration",
    "0 | number",
    "to | keyword",
    "40 | number",
    "ft | number",
    "band | keyword",
    "depth | variable",
    "shallow | type | declaration",
    "below | keyword",
    "1.5 | number",
    "m | number",
    "deep | type | declaration",
    "situation | keyword",
    "low | function | declaration",
    "clarity | variable",
    "is | keyword",
    "clear | enumMember",
    "or | keyword",
    "dirtier | operator",
    "pick | keyword",
    "weight | enum | declaration",
    "1/4 oz | enumMember | declaration",
    `"half an ounce" | enumMember | declaration`,
    "pattern | keyword",
    `"Mud" | class | declaration`,
    "go | keyword",
    "with | keyword",
    "blade | enum",
    "round | enumMember",
    "when | keyword",
    "low | function",
    "and | keyword",
    "depth | variable",
    "is | keyword",
    "shallow | type",
    "and | keyword",
    "is | keyword",
    "checked | keyword",
    "2027-03-01 | number",
  ]);
  const start = view.text.indexOf("situation");
  expect(shown(view, { start, end: start + 13 })).toEqual(["situation | keyword", "low | function | declaration"]);
});

test("the legend has standard types and modifiers only", () => {
  // Language Server Protocol 3.17, SemanticTokenTypes and SemanticTokenModifiers, from memory.
  expect([
    "namespace",
    "type",
    "class",
    "enum",
    "interface",
    "struct",
    "typeParameter",
    "parameter",
    "variable",
    "property",
    "enumMember",
    "event",
    "function",
    "method",
    "macro",
    "keyword",
    "modifier",
    "comment",
    "string",
    "number",
    "regexp",
    "operator",
    "decorator",
  ]).toEqual(expect.arrayContaining([...semanticTokenTypes]));
  expect([
    "declaration",
    "definition",
    "readonly",
    "static",
    "deprecated",
    "abstract",
    "async",
    "modification",
    "documentation",
    "defaultLibrary",
  ]).toEqual(expect.arrayContaining([...semanticTokenModifiers]));
});

describe("tokens stand in order, each in one line, none over another", () => {
  const check = (view: View): void => {
    const tokens = semanticTokens(view);
    const wrong = tokens.filter(
      ({ range }, i) =>
        range.start < (tokens[i - 1]?.range.end ?? 0) ||
        range.end <= range.start ||
        range.end > view.text.length ||
        /[\r\n]/.test(view.text.slice(range.start, range.end)),
    );
    expect(wrong).toEqual([]);
    expect(tokens.length).toBeGreaterThan(0);
  };
  const shipped = shippedBooks();
  test.each(Object.keys(shipped))("%s", (path) => check(open(shipped, { root: path }).view));
  test("damaged books", () => {
    fc.assert(
      fc.property(wordDamages(12), (damages) =>
        check(
          open({ "common/conditions.lore": shipped["common/conditions.lore"]!, "blades.lore": damaged(shipped["blades.lore"]!, damages) })
            .view,
        ),
      ),
      { numRuns: 30 },
    );
  });
});
