/**
 * What a file of known findings goes by: the same finding stays the same however its book is moved about, and another is another.
 *
 * The books are those of the hint pages, which show every kind of finding there is, and the books that ship, broken.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { editionKey, keyText } from "../src/same-finding.js";
import { parse } from "../src/syntax/parse.js";
import { format } from "../src/syntax/print.js";
import { check } from "./check.js";
import { root } from "./root.js";

const pages = readdirSync(join(root, "src/hints")).map((file) => ({
  code: file.replace(/\.md$/, ""),
  book: /```lore\n([\s\S]*?)```/.exec(readFileSync(join(root, "src/hints", file), "utf8"))![1]!,
}));

function keysOf(book: string, code: string): string[] {
  return check(book, { on: "2027-04-15", steps: code === "budget" ? 5 : undefined })
    .findings.map((finding) => keyText(editionKey(finding, book)))
    .sort();
}

/** The book with its statements in another order. */
function reversed(book: string): string {
  const { statements } = parse(book, "book.lore").tree;
  const texts = statements.map(({ range }) => book.slice(range.start, range.end));
  const ends = texts.findIndex((text) => text.startsWith("pattern"));
  const [head, tail] = [texts.slice(0, ends), texts.slice(ends)];
  return `${[...head, ...tail.reverse()].join("\n\n")}\n`;
}

describe("a finding stays the same", () => {
  const ways: readonly (readonly [string, (book: string) => string])[] = [
    ["with lines before it", (book) => `-- One line\n-- and another.\n\n${book}`],
    ["with other line ends", (book) => book.replaceAll("\n", "\r\n")],
    ["with comments in it", (book) => book.replace(/^( +when .*)$/gm, "$1 -- as they say")],
    ["put into its usual shape", format],
    ["on one line each", (book) => book.replace(/\n +/g, " ")],
    [
      "with something else beside it",
      (book) =>
        `${book}\ncondition moon "Moon": new, full\npick knot: improved, palomar\npattern "A full moon"\n  go with knot palomar\n  when moon is full\nfall back on knot improved\n`,
    ],
  ];
  for (const [how, changed] of ways) {
    test.each(pages)(`${how}: $code`, ({ code, book }) => {
      const keys = keysOf(book, code);
      expect(keys.length).toBeGreaterThan(0);
      expect(keysOf(changed(book), code)).toEqual(expect.arrayContaining(keys));
    });
  }

  // Where patterns stand says nothing, except for what is read from top to bottom: a second title, a circle that is cut.
  test.each(pages.filter(({ code }) => !["syntax", "circle"].includes(code)))(
    "with its patterns in another order: $code",
    ({ code, book }) => {
      expect(keysOf(reversed(book), code)).toEqual(keysOf(book, code));
    },
  );
});

test("another finding is another", () => {
  const all = pages.flatMap(({ code, book }) => keysOf(book, code));
  const twoGaps = `book "B"\ncondition clarity: clear, stained, muddy\npick blade: round, leaf\npattern "Mud"\n  go with blade round\n  when clarity is muddy\n`;
  const [before] = keysOf(twoGaps, "gap");
  const [after] = keysOf(twoGaps.replace("is muddy", "is muddy or stained"), "gap");
  expect(before).not.toBe(after);
  expect(new Set(all).size).toBeGreaterThan(pages.length - 2);
});

test("there is no line number in it, and a long text is cut", () => {
  const finding = {
    code: "syntax",
    severity: "error",
    title: "",
    message: "",
    help: "",
    path: "a.lore",
    range: { start: 3, end: 900 },
  } as const;
  const { text, ...rest } = editionKey(finding, `-- \n"${"x ".repeat(600)}`);
  expect(rest).toEqual({ path: "a.lore", code: "syntax" });
  expect(text!.length).toBeLessThan(200);
});
