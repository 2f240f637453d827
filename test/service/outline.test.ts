/** What an editor shows of a book as a whole: outline, search, folds, links, and selections that grow. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { foldsOf } from "../../src/service/folding.js";
import { linksOf } from "../../src/service/links.js";
import { selectionsAt } from "../../src/service/selection.js";
import { documentSymbols, workspaceSymbols, type DocumentSymbol } from "../../src/service/symbols.js";
import { openView } from "../../src/service/view.js";
import { parse } from "../../src/syntax/parse.js";
import type { Range } from "../../src/text.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { inRanges, open, reading, shippedBooks } from "./marks.js";

const shipped = shippedBooks();
const brokenBlades = wordDamages(12).map((damages) => damaged(shipped["blades.lore"]!, damages));

describe("the outline", () => {
  const outline = (symbols: readonly DocumentSymbol[], depth = 0): string =>
    symbols
      .map(
        ({ kind, name, detail, children }) =>
          `${"  ".repeat(depth)}${kind} ${name}${detail === undefined ? "" : ` | ${detail}`}\n${outline(children, depth + 1)}`,
      )
      .join("");

  test("has every statement, with what it declares below it", () => {
    const { view } = open(`book "Blades" edition "2027"
builds on "common.lore"
leave out "Old", "Older"
condition clarity "Water clarity": in order clear, dirty rising is dirtier, falling is clearer
condition cover: any of grass,
  docks -- on the east side
condition depth: 0 to 40 ft
band depth: shallow below 6 ft, deep
group cover: soft is grass
situation low: clarity is dirty -- or so
  and depth is deep
impossible when clarity is clear and depth is deep
pick blade "Blade": round, "long leaf"
add blade painted
pick weight: 1/4 oz, 1/2 oz
judgement seen: same as clarity
trust clarity first, then depth
trust for weight: depth first
pattern "Mud"
  go with blade round,
    then "long leaf"
  move weight up 1
  when clarity is dirty
fall back on blade round or painted because "never wrong"
say nothing on blade, weight when depth is shallow
caution "Cold" when clarity is dirty say "Mind."
promise "Always": blade must have an answer`);
    expect(outline(documentSymbols(view))).toBe(`book Blades | 2027
builds on common.lore
leave out "Old", "Older"
condition clarity | Water clarity
  level clear
  level dirty
condition cover
  member grass
  member docks
condition depth | 0 to 40 ft
band depth
  band shallow | below 6 ft
  band deep
group soft | cover: grass
situation low | clarity is dirty and depth is deep
impossible clarity is clear and depth is deep
pick blade | Blade
  option round
  option long leaf
add blade
  option painted
pick weight
  option 1/4 oz
  option 1/2 oz
judgement seen | same as clarity
trust trust | clarity first, then depth
trust weight | depth
pattern Mud | go with blade round, then "long leaf"; move weight up 1
fall back blade | round or painted
say nothing blade, weight | depth is shallow
caution Cold | clarity is dirty
promise Always | blade
`);
  });

  /** Symbols without a name, or of which something stands outside of what holds it. */
  const outsiders = (symbols: readonly DocumentSymbol[], within: Range): DocumentSymbol[] =>
    symbols.flatMap((symbol) => {
      const { name, range, nameRange, children } = symbol;
      const inside = (inner: Range, outer: Range): boolean =>
        inner.start >= outer.start && inner.end <= outer.end && inner.start <= inner.end;
      return [...(name !== "" && inside(range, within) && inside(nameRange, range) ? [] : [symbol]), ...outsiders(children, range)];
    });
  test.each(Object.keys(shipped))("%s: names stand within their statements", (path) => {
    const { view } = open(shipped, { root: path });
    const symbols = documentSymbols(view);
    expect(symbols).toHaveLength(view.parsed.tree.statements.length);
    expect(outsiders(symbols, view.parsed.tree.range)).toEqual([]);
  });
  test("so they do in damaged books", () => {
    fc.assert(
      fc.property(brokenBlades, (text) => {
        expect(outsiders(documentSymbols({ text, parsed: parse(text, "") }), { start: 0, end: text.length })).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});

test("search: names that begin so, hold it, hold its letters, in all books, each place once", () => {
  const texts = {
    "common.lore": `condition water-temp: 33 to 95 °F\nband water-temp: cold below 50 °F, warm\ncondition wind: 0 to 40 mph`,
    "lake.lore": `builds on "common.lore"\npick bait: worm, twister\npattern "Cold water" go with bait worm when water-temp is cold`,
    "river.lore": `builds on "common.lore"\npick bait: worm, tempter`,
  };
  const views = Object.keys(texts).map((path) => openView(path, texts[path as keyof typeof texts], reading(texts)));
  const search = (query: string) => workspaceSymbols(views, query).map(({ thing, place }) => `${thing.kind} ${thing.name} ${place.path}`);
  expect(search("w")).toEqual([
    "condition water-temp common.lore",
    "band warm common.lore",
    "condition wind common.lore",
    "option worm lake.lore",
    "option worm river.lore",
    "option twister lake.lore",
    "pattern Cold water lake.lore",
  ]);
  expect(search("cold Wa")).toEqual(["pattern Cold water lake.lore"]);
  expect(search("temp")).toEqual(["option tempter river.lore", "condition water-temp common.lore"]);
  expect(search("wtp")).toEqual(["condition water-temp common.lore"]);
  expect(search("zander")).toEqual([]);
});

test("folds", () => {
  const marked = `⟨-- One.
-- Two.
  -- Three.⟩
book "x"
⟨builds on "a.lore" -- a
⟨builds on
  "b.lore"⟩⟩

condition sky: clear, dark -- alone
-- Not with the one before it.

⟨pattern "a"
  go with blade round
  when sky is dark and ⟨(sky is clear
    or sky is dark)⟩⟩
pattern "b" go with blade round when (sky is clear)
⟨builds on
  "c.lore"⟩`;
  const { view } = open(marked);
  const folds = foldsOf(view);
  expect(
    inRanges(
      view.text,
      folds.map(({ range }) => range),
    ),
  ).toBe(marked);
  expect(folds.map(({ kind }) => kind)).toEqual(["comment", "books", "statement", "statement", "test", "statement"]);
});

test("links", () => {
  const { view } = open({
    "lakes/hollin.lore": `builds on "⟨../common/base.lore⟩"
builds on ""
pick blade: round, leaf
pattern "a" go with blade round
  see "a leaflet (⟨https://example.org/mud?x=1⟩), second-hand", "⟨http://example.org/a_(b)⟩." because "https://not.here"
caution "b" when blade is round say "Mind." see "⟨https://example.org⟩"`,
  });
  const links = linksOf(view);
  expect(
    inRanges(
      view.text,
      links.map(({ range }) => range),
    ),
  ).toBe(`builds on "⟨../common/base.lore⟩"
builds on ""
pick blade: round, leaf
pattern "a" go with blade round
  see "a leaflet (⟨https://example.org/mud?x=1⟩), second-hand", "⟨http://example.org/a_(b)⟩." because "https://not.here"
caution "b" when blade is round say "Mind." see "⟨https://example.org⟩"`);
  expect(links.map((link) => (link.kind === "book" ? link.path : link.address))).toEqual([
    "common/base.lore",
    "https://example.org/mud?x=1",
    "http://example.org/a_(b)",
    "https://example.org",
  ]);
});

describe("growing selections", () => {
  const steps = (marked: string): string[] => {
    const { view, cursor } = open(marked);
    return selectionsAt(view, cursor).map(({ start, end }) => view.text.slice(start, end));
  };

  test("from a word to its test, clause, statement and book", () => {
    const pattern = `pattern "Mud"\n  go with blade round, then leaf\n  when (clarity is stained or dirty) and sky is dark\n  beats "A", "B b"`;
    const book = `pick blade: round, leaf\n${pattern}`;
    const at = (before: string): string => book.replace(before, `${before}‸`);
    expect(steps(at("or di"))).toEqual([
      "dirty",
      "stained or dirty",
      "is stained or dirty",
      "clarity is stained or dirty",
      "(clarity is stained or dirty)",
      "(clarity is stained or dirty) and sky is dark",
      "when (clarity is stained or dirty) and sky is dark",
      pattern,
      book,
    ]);
    expect(steps(at(`"B`))).toEqual(["B", "B b", `"B b"`, `"A", "B b"`, `beats "A", "B b"`, pattern, book]);
    expect(steps(at("then le"))).toEqual(["leaf", "round, then leaf", "go with blade round, then leaf", pattern, book]);
  });

  test("an amount, a comment, and where there is nothing", () => {
    const book = `pick weight: 1/4 oz, 3/8 oz -- not too heavy`;
    expect(steps(book.replace("3/", "3/‸"))).toEqual(["3/8", "3/8 oz", "1/4 oz, 3/8 oz", "pick weight: 1/4 oz, 3/8 oz", book]);
    expect(steps(book.replace("too", "t‸oo"))).toEqual(["too", "-- not too heavy", book]);
    expect(steps("a  ‸  b")).toEqual(["a    b"]);
    expect(steps("‸")).toEqual([""]);
  });

  test("each holds the offset and the one before it, up to the whole text, in damaged books too", () => {
    fc.assert(
      fc.property(brokenBlades, fc.nat(), (text, at) => {
        const offset = at % (text.length + 1);
        const chain = selectionsAt({ text, parsed: parse(text, "") }, offset);
        expect(chain.at(-1)).toEqual({ start: 0, end: text.length });
        chain.forEach(({ start, end }, i) => {
          expect(start <= offset && offset <= end).toBe(true);
          const next = chain[i + 1];
          if (next !== undefined) expect(next.start <= start && next.end >= end && next.end - next.start > end - start).toBe(true);
        });
      }),
      { numRuns: 40 },
    );
  });
});
