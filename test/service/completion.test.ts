/** Completion: what is offered where. */
import { describe, expect, test } from "vitest";
import { completions } from "../../src/service/completion/completion.js";
import type { Completion } from "../../src/service/completion/offer.js";
import { bookNames } from "../../src/service/completion/names.js";
import { bookSnippets } from "../../src/service/completion/snippets.js";
import { parse } from "../../src/syntax/parse.js";
import { book } from "./blade-book.js";
import { open } from "./marks.js";

const offered = (end: string, before = book): readonly Completion[] => {
  const { view, cursor } = open({ "a.lore": "", "base.lore": 'pattern "Of the base" go with blade round', "book.lore": `${before}${end}` });
  return completions(view, cursor, { paths: () => ["base.lore", "common/conditions.lore"] });
};
const labels = (end: string, before?: string): readonly string[] => offered(end, before).map(({ label }) => label);
/** The text after a completion is accepted. */
const accepted = (end: string, label: string): string => {
  const { view, cursor } = open(`${book}${end}`);
  const item = completions(view, cursor, { paths: () => ["common/conditions.lore"] }).find((one) => one.label === label)!;
  return (view.text.slice(0, item.range.start) + item.text + view.text.slice(item.range.end)).slice(book.length);
};

describe("by context", () => {
  test.each([
    ['pattern "P"\n  go with ‸', ["blade", "weight", "seen"]],
    ['pattern "P"\n  go with blade ‸', ["round", "teardrop", '"long leaf"']],
    ['pattern "P"\n  go with blade round, then ‸', ["teardrop", '"long leaf"']],
    ['pattern "P"\n  move ‸', ["weight", "seen"]],
    ['pattern "P"\n  move weight ‸', ["up", "down"]],
    ['pattern "P"\n  never weight 1/2 oz or ‸', ["heavier", "lighter"]],
    ['pattern "P"\n  go with weight 3/‸', ["1/4 oz", "3/8 oz", "1/2 oz"]],
    ['pattern "P"\n  when cover ‸', ["has", "has no", "has any of", "has all of", "only", "is empty", "is not empty"]],
    ['pattern "P"\n  when cover has no ‸', ["soft", "grass", "pads", "stumps", "docks"]],
    ['pattern "P"\n  when cover has any of grass, ‸', ["soft", "pads", "stumps", "docks", "or"]],
    ['pattern "P"\n  when clarity is dirtier ‸', ["than"]],
    ['pattern "P"\n  when bottom ‸', ["is", "is not", "is neither"]],
    ['pattern "P"\n  when clarity ‸', ["is", "from", "is not", "is neither", "is from"]],
    ["fall back on weight ‸", ["1/4 oz", "3/8 oz", "1/2 oz"]],
    ["trust for blade: clarity first, then ‸", ["wind", "bottom", "cover", "temp", "day", "hour", "seen"]],
    ["trust for ‸", ["blade", "weight", "seen"]],
    ['condition x "X": ‸', ["any of", "days of the year", "times of the day", "in order"]],
    ["condition x: days of the year\n  filled from the ‸", ["date"]],
    ["band ‸", ["wind", "day", "hour"]],
    ["group ‸", ["clarity", "bottom", "cover"]],
    ["group cover: hard is stumps, ‸", ["grass", "pads", "docks"]],
    ['promise "P": blade ‸', ["must be", "must not be", "must have an answer", "must have no answer"]],
    ['promise "P": blade must not be ‸', ["round", "teardrop", '"long leaf"']],
    ['pattern "P"\n  beats ‸', ["Mud wants thump", "Wind wants weight"]],
    ['pattern "P"\n  beats "Mud wants thump", ‸', ["Wind wants weight"]],
    ['pattern "P"\n  go with weight 1/4 oz\n  beats "‸"', ["Wind wants weight", "Mud wants thump"]],
    ["leave out ‸", []],
    ["builds on ‸", ["base.lore", "common/conditions.lore"]],
    ['builds on "‸', ["base.lore", "common/conditions.lore"]],
    ["-- a comment ‸", []],
    ['pattern "P"‸', []],
    ["pattern “P”‸", []],
    ['pattern "P"\n  beats "Mud wants thump"‸', []],
    ['pattern "P"\n  go with weight 1/4 oz‸', []],
    ['pattern "P"\n  when clarity is clear‸', []],
    ["fall back on‸", []],
    ['pattern "P"\n  because "free text ‸', []],
    ['pattern "P"\n  go wi‸', ["go with"]],
    ['pattern "P"\n  lean to blade round by ‸', ["1", "2", "3"]],
  ])("%s", (end, expected) => expect(labels(end)).toEqual(expected));

  test.each([
    ['pattern "P"\n  when clarity is ‸', ["clear", "stained", "dirty", "muddy", "dirtier", "clearer", "is not", "is neither", "is from"]],
    ['pattern "P"\n  when clarity is clear‸er than muddy', ["clear", "stained"]],
    ['pattern "P"\n  when clarity is dirty or ‸', ["dirtier", "clearer", "clear", "stained", "muddy", "clarity"]],
    ['pattern "P"\n  when ‸', ["clarity", "wind", "bottom", "cover"]],
    ['pattern "P"\n  when not low-vision and ‸', ["clarity", "wind"]],
    ['pattern "P"\n  when temp is ‸', ["cold", "warm", "50 °F", "33 °F", "34 °F"]],
    ['pattern "P"\n  when wind is at least 10 ‸', ["mph", "kn", "m/s", "ft/s", "km/h", "and"]],
    ['pattern "P"\n  when wind is 1‸', ["1 mph", "10 mph", "0 mph"]],
    ['pattern "P"\n  when day from ‸', ["jan 1", "jan 15", "jan 31", "feb 1"]],
    ['pattern "P"\n  when hour from ‸', ["00:00", "01:00"]],
    ['pattern "P"\n  go with blade round ‸', ["or", "then", "go with", "lean to", "when", "because"]],
    ['pattern "P"\n  lean to blade round ‸', ["by", "go with", "lean to", "when"]],
    ['pattern "P"\n  go with blade round\n  ‸', ["go with", "lean to", "when", "because"]],
    ["‸", ["pattern", "condition", "pick", "fall back on"]],
    ['pattern "P"\n  when clarity is dirty and low-vision ‸', ["and", ", or"]],
    ["pick x: a, b\n  only when ‸", ["clarity", "wind"]],
    ["fall back ‸", ["fall back on"]],
  ])("%s first", (end, expected) => expect(labels(end).slice(0, expected.length)).toEqual(expected));

  test("snippets are offered where the cursor is indented too, and begin at the margin", () => {
    expect(accepted('pattern "P"\n  go with blade round\n  ‸', "pattern: a rule of thumb")).toMatch(
      /^pattern "P"\n {2}go with blade round\npattern "The rule in one breath"\n {2}go with/,
    );
  });
  test("a date is offered for a day that something was checked on, and among no options", () => {
    const dated = (end: string): readonly string[] => {
      const { view, cursor } = open(`${book}${end}`, { on: "2027-04-15" });
      return completions(view, cursor).map(({ label }) => label);
    };
    expect(dated('pattern "P"\n  go with blade round\n  checked ‸')).toEqual(["2027-04-15"]);
    for (const end of ["go with blade ‸", "when clarity is ‸", "when wind is above ‸"])
      expect(dated(`pattern "P"\n  ${end}`)).not.toContain("2027-04-15");
  });
  test("what the statement has already is not offered again, but actions are", () => {
    const list = labels('pattern "P"\n  go with blade round\n  when clarity is muddy\n  ‸');
    expect(list).not.toContain("when");
    expect(list).toContain("go with");
  });
  test("`or` is not offered where it would mix with `and`, nor `and` with `or`", () => {
    expect(labels('pattern "P"\n  when clarity is dirty and low-vision ‸')).not.toContain("or");
    expect(labels('pattern "P"\n  when clarity is dirty or not low-vision ‸')).not.toContain("and");
    expect(
      labels('pattern "P"\n  when clarity is dirty and low-vision, or cover has grass ‸').filter((label) => /and|or$/.test(label)),
    ).toEqual([]);
  });
  test("what never occurs is said of conditions alone, and no pick tests itself", () => {
    expect(labels("impossible when ‸")).not.toContain("blade");
    expect(labels('pattern "P"\n  go with blade round\n  when ‸')).not.toContain("blade");
    expect(labels('pattern "P"\n  go with blade round\n  when ‸')).toContain("weight");
  });
  test("patterns of books built on can be left out, its own cannot; their options can be added to", () => {
    const builds = `builds on "base.lore"\n`;
    expect(labels(`${builds}leave out "‸`)).toEqual(["Of the base"]);
  });
  test("days of the band that is being written", () => expect(labels("band day: winter from ‸")[0]).toBe("jan 1"));
});

describe("in broken and half-written text", () => {
  test("an unfinished statement is followed by others", () => {
    expect(labels('pattern "P"\n  go with blade ‸\n\npattern "Q"\n  go with blade round\n')).toEqual(["round", "teardrop", '"long leaf"']);
    expect(labels('pattern "P"\n  when clarity is ‸\npattern "Q"\n  go with blade round\n')[0]).toBe("clear");
  });
  test("an unfinished clause is followed by the one being written", () =>
    expect(labels('pattern "P"\n  go with\n  when cover has no ‸')).toEqual(["soft", "grass", "pads", "stumps", "docks"]));
  test("a word that fits nowhere is passed over", () =>
    expect(labels('pattern "P"\n  go with blade round 7 8\n  when clarity is ‸')[0]).toBe("clear"));
  test("a misspelt first word of a statement is read as meant", () =>
    expect(labels('patern "P"\n  go with ‸')).toEqual(["blade", "weight", "seen"]));
  test("nothing is known yet", () => {
    expect(labels("‸", "").slice(0, 3)).toEqual(["pattern", "condition", "pick"]);
    expect(labels('pattern "P"\n  go with ‸', "")).toEqual([]);
  });
  test("a broken declaration still gives its names", () =>
    expect(labels('pattern "P"\n  go with x ‸', `${book}pick x: one, two, \n`)).toEqual(["one", "two"]));
});

describe("what is replaced", () => {
  test.each([
    ['pattern "P"\n  go with blade tear‸', "teardrop", 'pattern "P"\n  go with blade teardrop'],
    ['pattern "P"\n  go with blade te‸ar\n  when', "teardrop", 'pattern "P"\n  go with blade teardrop\n  when'],
    ['pattern "P"\n  go with blade ‸', '"long leaf"', 'pattern "P"\n  go with blade "long leaf"'],
    ['pattern "P"\n  go with blade "lo‸"', '"long leaf"', 'pattern "P"\n  go with blade "long leaf"'],
    ['pattern "P"\n  beats Mud‸', "Mud wants thump", 'pattern "P"\n  beats "Mud wants thump"'],
    ['pattern "P"\n  beats "Mud‸', "Mud wants thump", 'pattern "P"\n  beats "Mud wants thump"'],
    ['pattern "P"\n  beats "‸"', "Mud wants thump", 'pattern "P"\n  beats "Mud wants thump"'],
    ['pattern "P"\n  beats "‸, "Wind wants weight"', "Mud wants thump", 'pattern "P"\n  beats "Mud wants thump", "Wind wants weight"'],
    ['pattern "P"\n  go with blade round ‸', "then", 'pattern "P"\n  go with blade round, then'],
    ['pattern "P"\n  go with blade round, ‸', "then", 'pattern "P"\n  go with blade round, then'],
    ['pattern "P"\n  go ‸', "go with", 'pattern "P"\n  go with'],
    ["fall back o‸", "fall back on", "fall back on"],
    ["condition x: 0 to 40 mph, to ‸", "to the nearest", "condition x: 0 to 40 mph, to the nearest"],
    ["condition x: 0 to 40 mph, to the n‸", "to the nearest", "condition x: 0 to 40 mph, to the nearest"],
    ['pattern "P"\n  when clarity is n‸', "is not", 'pattern "P"\n  when clarity is not'],
    ['builds on "com‸"', "common/conditions.lore", 'builds on "common/conditions.lore"'],
    ['pattern "P"\n  when wind is 12 m‸', "mph", 'pattern "P"\n  when wind is 12 mph'],
  ])("%s ← %s", (end, label, expected) => expect(accepted(end, label)).toBe(expected));
});

describe("snippets", () => {
  test("as plain text, each reads and means something, with the book's names in it", () => {
    const names = bookNames(open(book).view.model);
    for (const { text, title } of bookSnippets(names)) {
      if (title === "A new book" || title === "Build on another book") continue;
      const before = text.startsWith("band") || text.startsWith("condition") || text.startsWith("pick") ? "" : book;
      const { parsed, findings } = open(`${before}${text}\n`).view;
      expect([title, parsed.findings]).toEqual([title, []]);
      if (before !== "") expect([title, findings.filter(({ severity }) => severity === "error")]).toEqual([title, []]);
    }
  });
  test("the picks of the book are a choice", () => {
    expect(bookSnippets(bookNames(open(book).view.model)).find(({ prefix }) => prefix === "pattern")!.snippet).toContain(
      "go with ${2|blade,weight,seen|} ${3:round}\n  when ${4:clarity is clear}",
    );
  });
  test("a book without names has the usual ones", () => {
    for (const { text } of bookSnippets(bookNames(open("").view.model))) expect(parse(`${text}\n`, "x").findings).toEqual([]);
  });
});
