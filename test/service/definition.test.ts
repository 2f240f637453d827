/** Where a name leads to, who else says it, and what lights up with it. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { definitionAt } from "../../src/service/names/definition.js";
import { highlightsAt } from "../../src/service/names/highlight.js";
import { namesOf } from "../../src/service/names/names.js";
import { referencesAt } from "../../src/service/names/references.js";
import { openView } from "../../src/service/view.js";
import { books } from "../law/books.js";
import { inPlaces, inRanges, open, reading, shippedBooks, type Texts } from "./marks.js";

const common = `book "Common"
condition clarity: in order clear, dirty
  rising is dirtier, falling is clearer
pick blade: round, leaf
pattern "Mud" go with blade round when clarity is dirty`;

describe("definition", () => {
  /** At the cursor in the last book: the name that is declared, in the statement that does. */
  const expectDefinition = (texts: Texts): void => {
    const { view, texts: plain, cursor, ranges } = open(texts);
    const found = definitionAt(view, cursor);
    expect(
      inPlaces(
        plain,
        (found?.to ?? []).flatMap(({ name, whole }) => [whole, name]),
      ),
    ).toEqual(inPlaces(plain, ranges));
  };

  test("of a level, in another book", () =>
    expectDefinition({
      "common.lore": common.replace(/condition[^]*clearer/, (whole) => `⟨${whole.replace("clear,", "⟨clear⟩,")}⟩`),
      "book.lore": `builds on "common.lore"\npattern "Sun" go with blade leaf when clarity is clea‸r`,
    }));

  test("of a comparing word", () =>
    expectDefinition({
      "common.lore": common.replace(/condition[^]*clearer/, (whole) => `⟨${whole.replace("dirtier", "⟨dirtier⟩")}⟩`),
      "book.lore": `builds on "common.lore"\npattern "Sun" go with blade leaf when clarity is clear or ‸dirtier`,
    }));

  test("of a title after beats", () =>
    expectDefinition({
      "common.lore": common.replace(/pattern[^]*/, (whole) => `⟨${whole.replace("Mud", "⟨Mud⟩")}⟩`),
      "book.lore": `builds on "common.lore"\npattern "Sun" go with blade leaf beats "‸Mud"`,
    }));

  test("of a path: that book", () => {
    const { view, cursor } = open({ "common/base.lore": common, "lakes/book.lore": `builds on "../common/ba‸se.lore"` });
    const found = definitionAt(view, cursor)!;
    expect(inRanges(view.text, [found.from])).toBe(`builds on "⟨../common/base.lore⟩"`);
    expect(found.to).toEqual([
      {
        name: { path: "common/base.lore", range: { start: 5, end: 13 } },
        whole: { path: "common/base.lore", range: { start: 0, end: common.length } },
      },
    ]);
  });

  test("of nothing", () => {
    expect(definitionAt(open(`pick blade: ro und, leaf  ‸`).view, 26)).toBeUndefined();
    expect(definitionAt(open(`builds on "missing.lore"`).view, 14)).toBeUndefined();
    const unknown = open(`pick blade: round, leaf\npattern "a" go with bl‸ad round`);
    expect(definitionAt(unknown.view, unknown.cursor)).toBeUndefined();
  });
});

describe("references", () => {
  const texts = {
    "common.lore": `condition ⟨clarity⟩: in order clear, dirty\npick blade: round, leaf\ngroup ⟨clarity⟩: all is clear, dirty`,
    "river.lore": `builds on "common.lore"\npattern "a" go with blade round when ⟨clarity⟩ is dirty`,
    "other.lore": `condition clarity: bad, good\npick blade: round\npattern "a" go with blade round when clarity is bad`,
    "lake.lore": `builds on "common.lore"\npattern "a" go with blade leaf when ⟨clar‸ity⟩ is clear`,
  };

  test("in all books that build on the same, but not in others", () => {
    const { view, texts: plain, cursor, ranges } = open(texts);
    const others = ["river.lore", "other.lore", "common.lore"].map((path) => openView(path, plain[path]!, reading(plain)));
    expect(inPlaces(plain, referencesAt(view, cursor, { declarations: true, others }))).toEqual(inPlaces(plain, ranges));
    const [declaration] = ranges;
    expect(inPlaces(plain, referencesAt(view, cursor, { others }))).toEqual(
      inPlaces(
        plain,
        ranges.filter((one) => one !== declaration),
      ),
    );
  });

  test("asked for in the base book, they are found in those that build on it", () => {
    const { texts: plain, ranges } = open(texts);
    const others = ["river.lore", "other.lore", "lake.lore"].map((path) => openView(path, plain[path]!, reading(plain)));
    const base = openView("common.lore", plain["common.lore"]!, reading(plain));
    expect(inPlaces(plain, referencesAt(base, ranges[0]!.range.start, { declarations: true, others }))).toEqual(inPlaces(plain, ranges));
  });

  test("a pattern is found in the book that leaves it out", () => {
    const { texts: plain, ranges } = open({
      "common.lore": common.replace("Mud", "⟨Mud⟩"),
      "book.lore": `builds on "common.lore"\nleave out "⟨Mud⟩"\npattern "Mud" go with blade leaf`,
    });
    const base = openView("common.lore", plain["common.lore"]!, reading(plain));
    const others = [openView("book.lore", plain["book.lore"]!, reading(plain))];
    expect(inPlaces(plain, referencesAt(base, ranges[0]!.range.start, { declarations: true, others }))).toEqual(inPlaces(plain, ranges));
  });
});

test("highlights: declarations and mentions of the own book", () => {
  const { view, texts, cursor, ranges } = open({
    "common.lore": common,
    "book.lore": `builds on "common.lore"\nadd blade ⟨painted⟩\nfall back on blade ⟨pain‸ted⟩`,
  });
  const found = highlightsAt(view, cursor);
  expect(
    inRanges(
      view.text,
      found.map(({ range }) => range),
    ),
  ).toBe(inPlaces(texts, ranges)["book.lore"]);
  expect(found.map(({ kind }) => kind)).toEqual(["declaration", "mention"]);
  expect(highlightsAt(view, 0)).toEqual([]);
});

describe("laws", () => {
  const shipped = shippedBooks();
  const check = (texts: Texts, root: string): void => {
    const { view } = open(texts, { root });
    const key = ({ path, range }: { readonly path: string; readonly range: { readonly start: number; readonly end: number } }) =>
      `${path} ${range.start} ${range.end}`;
    for (const mention of namesOf(view).mentions) {
      if (mention.path !== root) continue;
      const { to, from } = definitionAt(view, mention.range.start)!;
      expect(from).toEqual(mention.range);
      const all = new Set(referencesAt(view, mention.range.end, { declarations: true }).map(key));
      expect(all).toContain(key(mention));
      for (const { name, whole } of to) {
        expect(all).toContain(key(name));
        expect(whole.range.start <= name.range.start && whole.range.end >= name.range.end).toBe(true);
      }
      const lit = highlightsAt(view, mention.range.start).map(({ range }) => key({ path: root, range }));
      expect(lit).toEqual([...all].filter((place) => place.startsWith(`${root} `)));
    }
  };
  test.each(Object.keys(shipped))("%s: every definition is among its own references", (path) => check(shipped, path));
  test("random books", () => {
    fc.assert(
      fc.property(books(), ({ texts, root }) => check(texts, root)),
      { numRuns: 40 },
    );
  });
});
