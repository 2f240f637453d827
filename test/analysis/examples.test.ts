/** Every check opens with books it accepts and rejects; here they are run. */
import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { booksOf, check, codes } from "../check.js";

const folder = new URL("../../src/analysis/checks/", import.meta.url);
const examples = readdirSync(folder).flatMap((file) => {
  const header = /\/\*\*[\s\S]*?\*\//.exec(readFileSync(new URL(file, folder), "utf8"))![0].replace(/^ \* ?/gm, "");
  return [...header.matchAll(/(Accepted|Rejected \(`([a-z-]+)`\)):\n```lore\n([\s\S]*?)```/g)].map(([, , code, book]) => ({
    file,
    code,
    book: book!,
  }));
});

describe("the books each check opens with", () => {
  test.each(examples)("$file $code", ({ file, code, book }) => {
    const found = codes(check(booksOf(book.startsWith("-- ") ? book : `book "Example"\n${book}`)).findings);
    if (code) expect(found).toContain(code);
    else expect(found, file).toEqual([]);
  });
  test("no check goes without", () => {
    const withRejected = new Set(examples.filter(({ code }) => code).map(({ file }) => file));
    const helpers = new Set(["context.ts", "at-leaves.ts", "overruling.ts", "tries.ts", "variants.ts"]);
    expect(readdirSync(folder).filter((file) => !withRejected.has(file) && !helpers.has(file))).toEqual([]);
  });
});
