/** The books in the hint pages are run: the first shows its code, the second is mended. */
import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { severities } from "../src/diagnostics.js";
import { booksOf, check, codes } from "./check.js";

const folder = new URL("../src/hints/", import.meta.url);
const pages = readdirSync(folder).map((file) => ({
  code: file.replace(/\.md$/, ""),
  books: [...readFileSync(new URL(file, folder), "utf8").matchAll(/```lore\n([\s\S]*?)```/g)].map(([, book]) => book!),
}));

test("every code has its page", () => {
  expect(pages.map(({ code }) => code).sort()).toEqual(Object.keys(severities).sort());
});

describe("the books of each page", () => {
  // No short book outgrows the budget: the page's book is checked with next to none.
  const steps = (code: string) => (code === "budget" ? 5 : undefined);
  test.each(pages)("$code", ({ code, books: [broken, mended] }) => {
    expect(codes(check(booksOf(broken!), { on: "2027-04-15", steps: steps(code) }).findings)).toContain(code);
    expect(codes(check(booksOf(mended!), { on: "2027-04-15" }).findings)).not.toContain(code);
  });
});
