/** What waits while somebody pauses, in books that ship, cut off anywhere, and what does not. */
import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { trying, unfinished } from "../../src/service/unfinished.js";
import { openView, type View } from "../../src/service/view.js";
import { parse } from "../../src/syntax/parse.js";
import { shippedBooks } from "./marks.js";

const books = shippedBooks();
const read = (path: string): { readonly text: string } | { readonly problem: string } =>
  path in books ? { text: books[path]! } : { problem: "there is no such file" };

/** Errors that are told of a text at whose ▮ somebody has paused. */
function told(marked: string, base = ""): readonly string[] {
  const offset = base.length + marked.indexOf("▮");
  return left(openView("x.lore", base + marked.replace("▮", ""), read), offset).map(({ title }) => title);
}

function left(view: View, offset: number): readonly Finding[] {
  const waits = unfinished(view, view.findings, offset);
  return view.findings.filter((finding) => finding.severity === "error" && finding.path === view.path && !waits.has(finding));
}

test("a sound book cut off anywhere has hardly an error that writing on would not mend", { timeout: 300_000 }, () => {
  let [cuts, red, wrong] = [0, 0, 0];
  for (const [path, text] of Object.entries(books)) {
    let before = parse("", path);
    for (let end = 1; end < text.length; end += 41) {
      const view = openView(path, text.slice(0, end), read, { on: "2027-04-15", parsed: parse(text.slice(0, end), path, before) });
      before = view.parsed;
      // A title that is declared further down is no half word.
      const errors = view.findings.filter(({ severity, title }) => severity === "error" && title !== "No pattern has this title");
      cuts++;
      if (errors.length > 0) red++;
      if (left({ ...view, findings: errors }, end).length > 0) wrong++;
    }
  }
  expect(red).toBeGreaterThan(cuts / 2);
  expect(wrong).toBeLessThan(cuts / 200);
});

test("tried in pieces before, the same waits, and nothing more is read", () => {
  for (const text of ['pattern "Sun" go with bait worm when sky is bri▮', 'pattern "Sun" go with bait worm when skj is bri▮', "patt▮"]) {
    const offset = base.length + text.indexOf("▮");
    const open = (): View => openView("x.lore", base + text.replace("▮", ""), read);
    const [tried, fresh] = [open(), open()];
    const steps = [...trying(tried, tried.findings, offset)];
    expect(steps.length).toBeGreaterThan(3);
    expect(left(tried, offset).map(({ title }) => title)).toEqual(left(fresh, offset).map(({ title }) => title));
    expect([...trying(tried, tried.findings, offset)].length).toBe(steps.length);
  }
});

test("what was tried is known no more once a book that it builds on has changed, though its own text has not", () => {
  const text = 'book "Cove"\nbuilds on "base.lore"\npattern "Sun" go with bait worm when sky is bri';
  const over = (base: string, parsed?: View["parsed"]): View =>
    openView("cove.lore", text, (path) => (path === "base.lore" ? { text: base } : read(path)), { parsed });
  const before = over(base);
  expect(left(before, text.length).map(({ title }) => title)).toEqual([]);
  const after = over(base.replace("bright, ", ""), before.parsed);
  expect(after.parsed).toBe(before.parsed);
  expect(left(after, text.length).map(({ title }) => title)).toEqual(["sky cannot be bri"]);
});

const base = `book "Pier"
condition sky "Sky": bright, broken, dark
condition wind "Wind": 0 to 40 mph
pick bait "Bait": worm, jig
`;

describe("waits", () => {
  test.each([
    'pattern "Sun" go with bait worm when sky is bri▮',
    'pattern "Sun"▮',
    'pattern "Sun"\n  go▮',
    'pattern "Sun"\n  go wi▮',
    'pattern "Sun"\n  go with ▮',
    'pattern "Sun"\n  go with bait worm\n  when ▮',
    'pattern "Sun"\n  go with bait worm\n  when sky▮',
    'pattern "Sun"\n  go with bait worm\n  when sky is bright or ▮',
    'pattern "Sun"\n  go with bait worm\n  when wind is above 20▮',
    'pattern "Sun"\n  go with bait worm\n  when sky is bright\n  because "so▮',
    'promise "Always"▮',
    "fall▮",
    "patt▮",
    "condition depth: 0 to 20 ft, to the near▮",
    'builds on "▮"',
    'builds on "common/cond▮"',
    'builds on "common/cond▮',
  ])("%s", (text) => expect(told(text, base)).toEqual([]));
});

describe("is told", () => {
  test.each([
    ['pattern "Sun" go with bait worm when sky is brx▮', "sky cannot be brx"],
    ['pattern "Sun" go with bait worm when sky is bright or drak▮', "sky cannot be drak"],
    ['pattern "Sun" go with bait worm when skj▮', "Nobody has declared skj"],
    ['pattern "Sun" go with bait worm when skj is bri▮', "Nobody has declared skj"],
    ['pattern "Sun"\n  go with bait wrm\n  when sky is ▮', "bait cannot be wrm"],
    ['pattern "Sun"\n  go with bait worm\n  when sky is brigt ▮', "sky cannot be brigt"],
    ['pattern "Sun"\n  go with bait wrm\nfall back on bait ▮', "bait cannot be wrm"],
    ['pattern "Sun"\n  go with bait wrm\n  -- a remark▮', "bait cannot be wrm"],
    ['builds on "common/cond.lore"▮', "The book common/cond.lore cannot be read"],
  ])("%s", (text, error) => expect(told(text, base)).toEqual([error]));
});
