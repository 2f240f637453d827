/** Text in columns: as wide as a terminal shows it, and cut only between signs. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { inColumns, signsOf, widthOf, wrapped } from "../../src/render/columns.js";

// Unicode Standard Annex 11, EastAsianWidth.txt: W is two columns, N and A one; Annex 51: an emoji sequence is shown as one picture.
test.each([
  ["muddy, 61 °F", 12],
  ["⚡", 2],
  ["✅", 2],
  ["🎣", 2],
  ["👩‍👧", 2],
  ["鱸", 2],
  ["e\u0301", 1],
  ["\u200b", 0],
  ["½ “a”", 5],
])("%s takes %i columns", (text, width) => {
  expect(widthOf(text)).toBe(width);
});

const word = fc
  .array(fc.constantFrom("a", "é", "e\u0301", "⚡", "👩‍👧", "鱸", "ж"), { minLength: 1, maxLength: 12 })
  .map((signs) => signs.join(""));
const text = fc.array(word, { minLength: 1, maxLength: 6 }).map((words) => words.join(" "));

test("no line is wider than there is room, and no sign is cut", () => {
  fc.assert(
    fc.property(text, fc.integer({ min: 2, max: 30 }), (words, width) => {
      const lines = wrapped(words, width);
      for (const line of lines) expect(widthOf(line)).toBeLessThanOrEqual(width);
      const signs = (of: string): readonly string[] => [...signsOf(of.replaceAll(" ", ""))];
      expect(lines.flatMap(signs)).toEqual(signs(words));
    }),
  );
});

test("cells of a column begin at one place, whatever is in the column before", () => {
  fc.assert(
    fc.property(fc.array(text, { minLength: 1, maxLength: 4 }), (cells) => {
      const [head, , ...lines] = inColumns(
        ["x", "y"],
        cells.map((cell) => ({ cells: [cell, "|"] })),
        200,
      );
      const at = (line: string, mark: string): number => widthOf(line.slice(0, line.lastIndexOf(mark)));
      expect(lines.map((line) => at(line, "|"))).toEqual(cells.map(() => at(head!, "y")));
    }),
  );
});
