/** Renaming: what is changed, and what is refused. */
import { describe, expect, test } from "vitest";
import { prepareRename, rename, type RenameOptions } from "../../src/service/names/rename.js";
import { openView } from "../../src/service/view.js";
import { applied } from "../check.js";
import { inRanges, open, reading, type Texts } from "./marks.js";

/** The texts after renaming what is at the cursor, or the refusal. */
function renamed(marked: string | Texts, name: string, options: RenameOptions = {}): Texts | string {
  const { view, texts, cursor } = open(marked);
  const edits = rename(view, cursor, name, options);
  return "refused" in edits ? edits.refused : applied(texts, edits);
}

describe("what is changed", () => {
  test("a level, everywhere it is tested, but only in tests of its condition", () => {
    expect(
      renamed(
        `
condition clarity: in order clear, dirty
condition sky: clear, dark
judgement seen: same as clarity
pick blade: round, clear
pattern "clear" go with blade clear when clarity is cle‸ar and sky is clear and seen is not clear because "clear"`,
        "gin-clear",
      ),
    ).toEqual({
      "book.lore": `
condition clarity: in order gin-clear, dirty
condition sky: clear, dark
judgement seen: same as clarity
pick blade: round, clear
pattern "clear" go with blade clear when clarity is gin-clear and sky is clear and seen is not gin-clear because "clear"`,
    });
  });

  test("a title keeps its quotes, and so do the titles after beats and leave out, in other books", () => {
    const texts = {
      "base.lore": `pick blade: round, leaf\npattern "Mud" go with blade round\npattern "Sun" go with blade leaf\n  beats "Mud"`,
      "lake.lore": `builds on "base.lore"\nleave out "Sun", "Mud"`,
    };
    const others = [openView("lake.lore", texts["lake.lore"], reading(texts))];
    const view = openView("base.lore", texts["base.lore"], reading(texts));
    const edits = rename(view, texts["base.lore"].indexOf("Mud"), `It's “mud” -- really`, { others });
    expect("refused" in edits ? edits : applied(texts, edits)).toEqual({
      "base.lore": `pick blade: round, leaf\npattern "It's “mud” -- really" go with blade round\npattern "Sun" go with blade leaf\n  beats "It's “mud” -- really"`,
      "lake.lore": `builds on "base.lore"\nleave out "Sun", "It's “mud” -- really"`,
    });
  });

  test("an option that needs quotes gets them, one that has them keeps them", () => {
    expect(renamed(`pick blade: round, leaf\nfall back on blade ro‸und`, "round and wide")).toEqual({
      "book.lore": `pick blade: "round and wide", leaf\nfall back on blade "round and wide"`,
    });
    expect(renamed(`pick blade: "round one", leaf\nfall back on blade "ro‸und one"`, `"round"`)).toEqual({
      "book.lore": `pick blade: "round", leaf\nfall back on blade "round"`,
    });
  });

  test("an amount, within its place in the order", () => {
    const book = `pick weight: 1/4 oz, 1/2 oz\nfall back on weight 0.‸25 oz`;
    expect(renamed(book, "3/8 oz")).toEqual({ "book.lore": `pick weight: 3/8 oz, 1/2 oz\nfall back on weight 3/8 oz` });
    expect(renamed(book, "3/8oz")).toEqual({ "book.lore": `pick weight: 3/8 oz, 1/2 oz\nfall back on weight 3/8 oz` });
    expect(renamed(book, "1 oz")).toMatch(/would not take the place of/);
    expect(renamed(book, "12 ft")).toMatch(/could no longer be read/);
    expect(renamed(book, "light")).toMatch(/would not take the place of/);
    expect(renamed(book, "0.5 oz")).toMatch(/could no longer be read/);
  });

  test("a condition, with what belongs to it", () => {
    expect(
      renamed(
        `condition sky: clear, dark\npick blade: round\ntrust sky first\npattern "a" go with blade round when s‸ky is clear`,
        "light",
      ),
    ).toEqual({
      "book.lore": `condition light: clear, dark\npick blade: round\ntrust light first\npattern "a" go with blade round when light is clear`,
    });
  });

  test("in a broken book, as far as it can be read", () => {
    expect(
      renamed(`condition sky: clear, dark\npick blade: round\npattern "a" go with when s‸ky is cler\npattern "b" when sky is`, "light"),
    ).toEqual({
      "book.lore": `condition light: clear, dark\npick blade: round\npattern "a" go with when light is cler\npattern "b" when light is`,
    });
  });

  test("to what a test calls it already", () => {
    expect(renamed(`condition sky: clear, da‸rk\npick blade: round\npattern "a" go with blade round when sky is dim`, "dim")).toEqual({
      "book.lore": `condition sky: clear, dim\npick blade: round\npattern "a" go with blade round when sky is dim`,
    });
  });

  test("to the name it has: nothing", () => {
    const { view, cursor } = open(`condition s‸ky: clear, dark`);
    expect(rename(view, cursor, "sky")).toEqual([]);
  });

  test("where two paths lead to one book, as the reader says", () => {
    const texts = {
      "common.lore": `condition sky: clear, dark`,
      "lake.lore": `builds on "Common.lore"\npick blade: round\npattern "a" go with blade round when sky is dark`,
    };
    const read = (path: string) =>
      path.toLowerCase() === "common.lore" ? { text: texts["common.lore"], path: "common.lore" } : { problem: "no" };
    const edits = rename(openView("lake.lore", texts["lake.lore"], read), texts["lake.lore"].indexOf("sky"), "light", { read });
    expect("refused" in edits ? edits : applied(texts, edits)["common.lore"]).toBe("condition light: clear, dark");
  });
});

describe("what is refused", () => {
  const book = (name: string) =>
    `
condition sky: clear, dark
condition clarity: in order gin, dirty
  rising is dirtier, falling is clearer
group clarity: poor is dirty
pick blade: round, leaf
judgement seen: same as clarity
situation dim: sky is dark
pattern "a" go with blade round when clarity is dirty or sky is dark
pattern "b" go with blade leaf when dim and clarity is dirty or dirtier beats "a"`.replace(
      new RegExp(`(?<=[^a-z])${name}(?=[^a-z])`),
      `‸${name}`,
    );

  test.each([
    ["sky", "clarity"],
    ["sky", "blade"],
    ["sky", "dim"],
    ["blade", "seen"],
    ["dim", "sky"],
    ["dim", "dirty"],
    ["dim", "leaf"],
    ["dim", "dirtier"],
    ["dirty", "gin"],
    ["dirty", "poor"],
    ["poor", "gin"],
    ["dirty", "clearer"],
    ["dirtier", "clearer"],
    ["dirtier", "gin"],
    ["dirty", "dim"],
    ["round", "leaf"],
    ["a", "b"],
  ])("%s to %s: it is taken", (name, taken) => {
    expect(renamed(book(name), taken)).toMatch(/With the name/);
  });

  test.each(["Low Light", "low light", "Sky", "", " ", "when", "go with", "4", "1/4 oz", "a, b", "sky-", "x\ny", "-- x", `"sky"`, "аpple"])(
    "a condition cannot be called %j",
    (name) => {
      expect(renamed(book("sky"), name)).toMatch(/is no name/);
    },
  );

  test("the likely name is said", () => expect(renamed(book("sky"), "Low Light!")).toMatch(/Write low-light\./));

  test.each(["", "  ", `a "b`, "a\nb"])("a title cannot be %j", (name) => expect(renamed(book("a"), name)).toMatch(/A title/));
  test.each(["", `a "b`, "a\nb"])("an option cannot be %j", (name) => expect(renamed(book("round"), name)).toMatch(/is no option/));

  test("a name that another book has already", () => {
    const texts = {
      "common.lore": `condition sky: clear, dark`,
      "lake.lore": `builds on "common.lore"\ncondition light: good, bad\npick blade: round\npattern "a" go with blade round when sky is dark and light is bad`,
    };
    const view = openView("common.lore", texts["common.lore"], reading(texts));
    expect(rename(view, 12, "light", { others: [openView("lake.lore", texts["lake.lore"], reading(texts))] })).toEqual({
      refused: expect.stringMatching(/With the name light, lake\.lore .*The name light is taken/),
    });
    expect(rename(view, 12, "light")).toHaveLength(1);
  });

  test("what would silently mean something else", () => {
    expect(
      renamed(
        {
          "base.lore": `pick blade: round, leaf\npattern "Sun" go with blade leaf\npattern "Mud" go with blade round\n  beats "Sun"`,
          "book.lore": `builds on "base.lore"\nleave out "Sun"\npattern "‸Ours" go with blade leaf`,
        },
        "Sun",
      ),
    ).toMatch(/speak of another thing/);
  });

  test("where there is no name", () => {
    const { view } = open(`builds on "x.lore"\npick blade: round`);
    for (const offset of [0, 12, 19]) {
      expect(prepareRename(view, offset)).toEqual({ refused: expect.stringMatching(/no name here/) });
      expect(rename(view, offset, "x")).toEqual({ refused: expect.stringMatching(/no name here/) });
    }
  });
});

test("preparing: the name without its quotes", () => {
  const { view, cursor } = open(`pick blade: "long le‸af", round`);
  const found = prepareRename(view, cursor);
  expect("refused" in found ? "" : inRanges(view.text, [found.range])).toBe(`pick blade: "⟨long leaf⟩", round`);
  expect(found).toMatchObject({ name: "long leaf" });
});
