/** Completion, hover and formatting of books that were damaged at random: they answer, and never throw. */
import { expect, test } from "vitest";
import { completions } from "../../src/service/completion/completion.js";
import { formatting, rangeFormatting } from "../../src/service/formatting.js";
import { hover } from "../../src/service/hover/hover.js";
import { subjectAt } from "../../src/service/subject.js";
import { open, shippedBooks } from "./marks.js";
import { dice } from "../bench/books.js";

/** Cuts, doubles, swaps and strange signs, a few at a time. */
function damaged(text: string, roll: (sides: number) => number): string {
  const signs = [
    '"',
    "--",
    ",",
    "(",
    ")",
    ":",
    "\n",
    " ",
    "or",
    "and",
    "when",
    "pattern",
    "°",
    "½",
    "“",
    "\r\n",
    "\u200b",
    "💧",
    "-",
    "/",
    "9",
  ];
  let left = text;
  for (let n = 0; n < 1 + roll(6); n++) {
    const [from, to] = [roll(left.length + 1), roll(left.length + 1)].sort((a, b) => a - b) as [number, number];
    const end = Math.min(to, from + roll(200));
    const kind = roll(4);
    if (kind === 0) left = left.slice(0, from) + left.slice(end);
    else if (kind === 1) left = left.slice(0, from) + left.slice(from, end) + left.slice(from);
    else left = left.slice(0, from) + signs[roll(signs.length)]! + left.slice(kind === 2 ? from : end);
  }
  return left;
}

test("a few hundred damaged books", () => {
  const books = shippedBooks();
  const roll = dice(3);
  const paths = ["blades.lore", "river.lore", "hollin-cove.lore", "common/conditions.lore"];
  let [offered, told] = [0, 0];
  for (let n = 0; n < 120; n++) {
    const path = paths[n % paths.length]!;
    const whole = books[path]!;
    const start = roll(whole.length);
    const text = damaged(whole.slice(start, start + 1500), roll);
    const { view } = open({ ...books, [path]: text }, { root: path });
    for (let k = 0; k < 25; k++) {
      const at = roll(text.length + 1);
      const items = completions(view, at, { paths: () => ["common/conditions.lore"] });
      for (const { range } of items)
        expect(range.start <= at && at <= range.end && range.start >= 0 && range.end <= text.length).toBe(true);
      if (items.length > 0) offered++;
      const { pattern } = subjectAt(view, at);
      if (pattern !== undefined) expect(text.lastIndexOf(pattern, at + pattern.length + 1)).toBeGreaterThanOrEqual(0);
      const found = hover(view, at);
      if (found) {
        told++;
        expect(found.range.start <= at && at <= found.range.end).toBe(true);
      }
    }
    const edits = formatting(view);
    for (const [i, { range }] of edits.entries())
      expect(range.start >= (edits[i - 1]?.range.end ?? 0) && range.end <= text.length).toBe(true);
    rangeFormatting(view, { start: roll(text.length + 1), end: text.length });
  }
  expect(Math.min(offered, told)).toBeGreaterThan(300);
});
