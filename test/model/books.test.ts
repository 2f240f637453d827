/** Books that build on each other. */
import { describe, expect, test } from "vitest";
import { resolved, sound, type Texts } from "./books.js";

const conditions = `book "Conditions"
condition clarity: in order clear, stained, muddy
condition cover: any of grass, docks`;
const blades = `book "Blades"
builds on "common/conditions.lore"
pick blade: round, leaf
pattern "Mud wants thump" go with blade round when clarity is muddy
pattern "Soft cover" go with blade leaf when cover has grass
trust clarity first, then cover
fall back on blade leaf
promise "An answer": blade must have an answer`;
const shelf: Texts = { "common/conditions.lore": conditions, "blades.lore": blades };

/** `code at path: title`, one for each finding that is no note. */
function findings(texts: Texts, on?: string): string[] {
  return resolved(texts, on)
    .findings.filter(({ severity }) => severity !== "note")
    .map(({ code, path, title }) => `${code} at ${path}: ${title}`);
}

describe("builds on", () => {
  test("takes in the other book, which stands before it and is the less local", () => {
    const model = sound(shelf);
    expect(model.books.map(({ path, title }) => [path, title])).toEqual([
      ["common/conditions.lore", "Conditions"],
      ["blades.lore", "Blades"],
    ]);
    expect(model.books.map(({ buildsOn }) => buildsOn)).toEqual([[], [0]]);
    expect(model.moreLocal(1, 0)).toBe(true);
    expect(model.moreLocal(0, 1)).toBe(false);
    expect(model.moreLocal(1, 1)).toBe(false);
  });

  test("paths are found from the book's own folder, with .. and .", () => {
    const model = sound({
      "a/common.lore": conditions,
      "a/b/near.lore": 'book "Near" builds on "../common.lore"',
      "a/b/c/root.lore": 'book "Root" builds on "./../near.lore" builds on "../../common.lore"',
    });
    expect(model.books.map(({ path }) => path)).toEqual(["a/common.lore", "a/b/near.lore", "a/b/c/root.lore"]);
    expect(model.books[2]!.buildsOn).toEqual([1, 0]);
  });

  test("a book reached twice is read once; books side by side are not ordered", () => {
    let reads = 0;
    const texts: Texts = {
      ...shelf,
      "jigs.lore": 'book "Jigs" builds on "common/conditions.lore"',
      "root.lore": 'book "Root" builds on "blades.lore" builds on "jigs.lore"',
    };
    const counted = new Proxy(texts, { get: (target, path: string) => (path === "common/conditions.lore" && reads++, target[path]) });
    const model = sound(counted);
    expect(reads).toBe(1);
    const [, blades, jigs, root] = [0, 1, 2, 3];
    expect(model.moreLocal(blades, jigs) || model.moreLocal(jigs, blades)).toBe(false);
    expect([0, 1, 2].map((book) => model.moreLocal(root, book))).toEqual([true, true, true]);
  });

  test("a path that leads back is a circle, shown", () => {
    const { findings } = resolved({
      "b.lore": 'book "B" builds on "c.lore"',
      "c.lore": 'book "C" builds on "a.lore"',
      "a.lore": 'book "A" builds on "b.lore"',
    });
    expect(findings.map(({ code, path }) => [code, path])).toEqual([["circle", "c.lore"]]);
    expect(findings[0]!.message).toContain("a.lore → b.lore → c.lore → a.lore");
  });

  test("one that cannot be read is an error where it is named, and no name is blamed for it", () => {
    const { model, findings } = resolved({ "blades.lore": blades });
    expect(findings.map(({ code, path, message }) => [code, path, message.split(". ")[0]])).toEqual([
      ["file", "blades.lore", "This book builds on common/conditions.lore, but there is no such file"],
    ]);
    expect(model.patterns).toEqual([]);
    expect(model.held).toEqual([{ picks: [0] }, { picks: [0] }]);
  });

  test("named twice", () => {
    expect(findings({ ...shelf, "root.lore": 'book "R" builds on "blades.lore" builds on "./blades.lore"' })).toEqual([
      "duplicate at root.lore: A book is named twice",
    ]);
  });

  test("findings of a base book are told at its own place, those of the parser too", () => {
    expect(
      findings({
        ...shelf,
        "blades.lore": `${blades}\npattern "X" go with blade roun\npattern "Y" go with`,
        "root.lore": 'book "R" builds on "blades.lore"',
      }).every((line) => line.includes(" at blades.lore: ")),
    ).toBe(true);
  });
});

describe("leave out and add", () => {
  const local = (text: string): Texts => ({ ...shelf, "root.lore": `book "Root" builds on "blades.lore"\n${text}` });

  test("leave out drops a pattern of any book taken in", () => {
    expect(sound(local('leave out "Soft cover"')).patterns.map(({ title }) => title)).toEqual(["Mud wants thump"]);
  });

  test("a pattern left out can be written anew under its title", () => {
    const model = sound(
      local(
        'leave out "Soft cover"\npattern "Soft cover" go with blade round when cover has grass\npattern "Ours" go with blade leaf beats "Soft cover"',
      ),
    );
    expect(model.patterns.map(({ title, book }) => [title, book])).toEqual([
      ["Mud wants thump", 1],
      ["Soft cover", 2],
      ["Ours", 2],
    ]);
    expect(model.patterns[2]!.beats.map(({ pattern }) => pattern)).toEqual([1]);
  });

  test("without it the same title is taken", () => {
    expect(findings(local('pattern "Soft cover" go with blade round'))).toEqual([
      "duplicate at root.lore: A second pattern with this title",
    ]);
  });

  test("it is an error where a beats names the pattern", () => {
    expect(findings(local('leave out "Soft cover"\npattern "Ours" go with blade leaf beats "Soft cover"'))).toEqual([
      "name at root.lore: A pattern that is left out is still named",
    ]);
  });

  test("it reaches neither its own book nor what it does not build on", () => {
    expect(findings(local('leave out "Ours"\npattern "Ours" go with blade leaf'))).toEqual([
      "kind at root.lore: Only what is taken in can be left out",
    ]);
    expect(findings(local('leave out "Sof cover"'))).toEqual(["name at root.lore: No pattern has this title"]);
  });

  test("add gives one more option, the last in an order; of quantities in its place by size", () => {
    const model = sound({
      "base.lore": 'book "Base"\npick size: in order small, large\npick weight: 1/4 oz, 1/2 oz\npick blade: round, leaf',
      "root.lore":
        'book "Root" builds on "base.lore"\nadd size huge\nadd weight 3/8 oz\nadd blade painted\npattern "X" go with size huge go with weight 3/8 oz go with blade painted',
    });
    expect(model.picks.map(({ options }) => options.map(({ text }) => text))).toEqual([
      ["small", "large", "huge"],
      ["1/4 oz", "3/8 oz", "1/2 oz"],
      ["round", "leaf", "painted"],
    ]);
    expect(model.patterns[0]!.goes.map(({ places }) => places)).toEqual([[[2]], [[1]], [[2]]]);
  });

  test("add to a pick of one's own, one that is there already, one of another kind", () => {
    expect(findings(local("pick size: a, b\nadd size c\nadd blade round\nadd blad painted"))).toEqual([
      "kind at root.lore: Only what is taken in can be added to",
      "duplicate at root.lore: blade has round already",
      "name at root.lore: Nobody has declared blad",
    ]);
  });
});

describe("the most local", () => {
  const base = (text: string) => `book "Base"\n${text}`;
  const common = "condition clarity: clear, muddy\ncondition sky: bright, dark\npick blade: round, leaf\npick size: small, large";
  const sides = (left: string, right: string, root: string): Texts => ({
    "common.lore": base(common),
    "left.lore": `book "Left" builds on "common.lore"\n${left}`,
    "right.lore": `book "Right" builds on "common.lore"\n${right}`,
    "root.lore": `book "Root" builds on "left.lore" builds on "right.lore"\n${root}`,
  });
  const fallBacks = (texts: Texts) => resolved(texts).model.picks.map(({ fallBack }) => fallBack?.places);
  const trusts = (texts: Texts) => resolved(texts).model.picks.map(({ trust }) => trust.map(({ index }) => index));

  test("fall back counts", () => {
    const texts = sides("fall back on blade round", "", "fall back on blade leaf or round");
    expect(findings(texts)).toEqual([]);
    expect(fallBacks(texts)).toEqual([[[1, 0]], undefined]);
  });

  test("trust for the pick counts, else trust", () => {
    const texts = sides("trust for blade: sky first\ntrust clarity first", "", "trust sky first, then clarity");
    expect(findings(texts)).toEqual([]);
    expect(trusts(texts)).toEqual([[1], [1, 0]]);
  });

  test("two side by side are an error where they meet, unless a more local book has its own", () => {
    const both: [string, string] = ["fall back on blade round\ntrust clarity first", "fall back on blade leaf\ntrust sky first"];
    const texts = sides(...both, "");
    expect(findings(texts)).toEqual([
      "duplicate at root.lore: Two books side by side both have a `trust`",
      "duplicate at root.lore: Two books side by side both have a `fall back on blade`",
    ]);
    const { text } = resolved(texts).model.books[3]!;
    expect(resolved(texts).findings.map(({ range }) => text.slice(range.start, range.end))).toEqual(['"right.lore"', '"right.lore"']);
    expect(findings(sides(...both, "fall back on blade leaf\ntrust sky first"))).toEqual([]);
  });

  test("every say nothing stays, with its book", () => {
    const { picks } = sound(sides("say nothing on blade when sky is dark", "say nothing on blade when clarity is muddy", ""));
    expect(picks[0]!.sayNothing.map(({ book }) => book)).toEqual([1, 2]);
  });

  test("promises of a base book are marked as such", () => {
    const { promises } = sound(sides('promise "A": blade must have an answer', "", 'promise "B": blade must not be leaf when sky is dark'));
    expect(promises.map(({ title, ofBase, must, options }) => [title, ofBase, must, options])).toEqual([
      ["A", true, "have an answer", []],
      ["B", false, "not be", [1]],
    ]);
  });
});

describe("dates", () => {
  const dated = `book "Dated" good from 2027-03-01 to 2027-06-15
pick blade: round, leaf
pattern "This week" go with blade leaf until 2027-04-15
pattern "Law" never blade leaf checked 2026-04-15
pattern "Named" go with blade round beats "This week"`;
  const stale = (on?: string) =>
    resolved(dated, on).findings.map(({ code, title, range }) => `${code} ${dated.slice(range.start, range.end)}: ${title}`);
  const titles = (on?: string) => resolved(dated, on).model.patterns.map(({ title }) => title);

  test("without a day nothing is stale", () => {
    expect(stale()).toEqual([]);
    expect(titles()).toEqual(["This week", "Law", "Named"]);
  });

  test("until is the last day on which a pattern speaks", () => {
    expect(stale("2027-04-15")).toEqual([]);
    expect(titles("2027-04-15")).toContain("This week");
    expect(stale("2027-04-16")).toEqual([
      "stale 2027-04-15: This pattern no longer speaks",
      "stale 2026-04-15: Not checked for over a year",
    ]);
    expect(titles("2027-04-16")).toEqual(["Law", "Named"]);
    expect(resolved(dated, "2027-04-16").model.patterns[1]!.beats).toEqual([]);
  });

  test("checked is good for 365 days, the book to its last day", () => {
    expect(stale("2027-06-15").filter((line) => line.includes("past"))).toEqual([]);
    expect(stale("2027-06-16")[0]).toBe("stale 2027-06-15: This book is past its date");
  });

  test("no such date", () => {
    const { findings, model } = resolved(
      'book "B" good from 2027-06-15 to 2027-03-01\npick blade: round, leaf\npattern "A" go with blade round checked 2027-02-29',
    );
    expect(findings.map(({ code }) => code)).toEqual(["range", "range"]);
    expect(findings[0]!.fixes![0]!.edits[0]!.text).toBe("2027-03-01 to 2027-06-15");
    expect([model.patterns, model.held]).toEqual([[], [{ picks: [0] }]]);
  });
});
