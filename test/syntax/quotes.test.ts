/** A quotation mark that is missing: one finding, and a fix that puts it back and changes nothing else. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { parse } from "../../src/syntax/parse.js";
import { expectMarked } from "../marks.js";

const find = (text: string): readonly Finding[] => parse(text, "x.lore").findings;
const check = (marked: string): void => expectMarked(marked, find);

/** With every fix that is the only one of its finding, as `check --fix` applies them. */
function mended(text: string): string {
  const edits = find(text).flatMap(({ fixes = [] }) => (fixes.length === 1 ? fixes[0]!.edits : []));
  return [...edits]
    .sort((a, b) => b.range.start - a.range.start)
    .reduce((book, { range, text: put }) => book.slice(0, range.start) + put + book.slice(range.end), text);
}

/** Mended, it is a book without findings. */
function expectMended(text: string, expected: string): void {
  expect(mended(text)).toBe(expected);
  expect(find(expected)).toEqual([]);
}

describe("the opening one", () => {
  test("is missing once, whatever words stand in the text", () => {
    check(`
pattern "a" go with blade leaf
  because They feel it before they see it."
          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: The opening quotation mark is missing
  when sky is dark see the pick of the book."
                       ^^^^^^^^^^^^^^^^^^^^^^ syntax: Write a quotation mark before \`the\`
caution Cold water" when sky is dark say Wear a jacket." see "x", the log" -- or "so"
        ^^^^^^^^^^^ syntax: opening
                                         ^^^^^^^^^^^^^^^ syntax: opening
                                                                  ^^^^^^^^ syntax: opening
condition wind The wind": low, high
               ^^^^^^^^^ syntax: opening
promise Never in mud": blade must not be leaf
        ^^^^^^^^^^^^^ syntax: opening
pattern Mud wants thump" go with blade leaf
        ^^^^^^^^^^^^^^^^ syntax: opening`);
  });

  test.each([
    ['pattern "a" move b up because They feel it before they see it."', 'pattern "a" move b up because "They feel it before they see it."'],
    ['pattern "a" move b up because They feel it.” see "x"', 'pattern "a" move b up because "They feel it." see "x"'],
    [
      'pattern "a" move b up because They feel it — say what you will."',
      'pattern "a" move b up because "They feel it — say what you will."',
    ],
    ['caution Cold water" say Wear a pick of the book." -- so\n', 'caution "Cold water" say "Wear a pick of the book." -- so\n'],
  ])("%j", expectMended);
});

describe("the closing one", () => {
  test("is put where there is only one place for it", () => {
    check(`
condition wind "The wind: low, high
               ^^^^^^^^^ syntax: The closing quotation mark is missing
pattern "a" go with blade leaf because "They feel it see "the log"
                                       ^^^^^^^^^^^^^ syntax: I take it to end before \`see\`
pattern "b" go with blade leaf
  because "They feel it before
          ^^^^^^^^^^^^^^^^^^^^… syntax: This text goes on over several lines
  they see it."
caution "Cold water" say "Wear a jacket.
                         ^^^^^^^^^^^^^^^ syntax: closing`);
  });

  test.each([
    ['condition wind "The wind: low, high', 'condition wind "The wind": low, high'],
    ['promise "Never in mud: b must not be c', 'promise "Never in mud": b must not be c'],
    ['pattern "a" move b up because "They feel it see "the log"', 'pattern "a" move b up because "They feel it" see "the log"'],
    [
      'pattern "a"\n  move b up\n  because “They feel it\n    before they\n    see it.”\n  when c',
      'pattern "a"\n  move b up\n  because "They feel it before they see it."\n  when c',
    ],
    ['pattern "a" move b up because "They feel it\n  when c', 'pattern "a" move b up because "They feel it"\n  when c'],
  ])("%j", expectMended);

  test("is left to the writer where it may stand in several", () => {
    for (const text of [
      'pattern "a" move b up because "They feel it when c',
      'pattern "a" move b up because "They feel it -- a note',
      'pattern "Mud move b up',
      'pick line: "8/0, 9/0',
    ]) {
      const [finding, ...more] = find(text).filter(({ fixes }) => fixes !== undefined);
      expect([finding!.fixes!.length, more.length], text).toEqual([2, 0]);
      expect(mended(text)).toBe(text);
    }
  });
});

test("what leaves doubt is one finding without a fix", () => {
  check(`
pattern "a" go with blade leaf
  because a 5" worm is it
          ^^^^^^^^^^^^^^^ syntax: A quotation mark inside a text
pattern "b" go with blade leaf
  because They call it "slow" water."
          ^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: A quotation mark inside a text
pattern "c" go with blade leaf when sky is dark"
                                               ^ syntax: A lone quotation mark
pattern "d" go with blade leaf
  because They feel it before they see it
          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: The quotation marks are missing`);
  for (const text of [
    'pattern "a" move b up because a 5" worm is it',
    'pattern "a" move b up when c"',
    'pattern "a" move b up because They feel it before they see it',
  ])
    expect(mended(text)).toBe(text);
});

test("whichever mark of a book is taken out, mending puts it back or leaves the text alone", () => {
  const book = readFileSync(new URL("../books/hollin.lore", import.meta.url), "utf8").replace(/^--.*\n/gm, "");
  let back = 0;
  let alone = 0;
  for (const { index } of book.matchAll(/"/g)) {
    const text = book.slice(0, index) + book.slice(index + 1);
    const after = mended(text);
    if (after === book) back++;
    else alone++;
    expect([book, text], text.slice(Math.max(0, index - 60), index + 60)).toContain(after);
  }
  expect(back).toBeGreaterThan(alone);
});
