/** Hover: what is said of names, quantities and words, with and without an analysis. */
import { describe, expect, test } from "vitest";
import * as T from "../../grammar/tokens.js";
import { analyse } from "../../src/analysis/analyse.js";
import { wordLines } from "../../src/messages/service-words.js";
import { hover } from "../../src/service/hover/hover.js";
import { bold, code, escaped } from "../../src/render/markdown.js";
import { namesOf } from "../../src/service/names/names.js";
import { decidingOf } from "../../src/service/shares.js";
import { withAnalysis, type View } from "../../src/service/view.js";
import { shopBook } from "../bench/books.js";
import { open, shippedBooks } from "./marks.js";

const book = `book "Blades"
condition clarity "Water clarity": in order clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
  ask "How far down can you see a white lure?"
condition cover "Cover": any of grass, pads, docks
condition temp "Water temperature": 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition day: days of the year
  filled from the date
band temp: cold below 50 °F, cool below 70 °F, warm
group cover: soft is grass, pads
situation murk: clarity is dirty or dirtier
pick blade "Blade style": round, leaf, "size 4, red"
pick weight: 1/4 oz, 1/2 oz
  only when blade is round
trust clarity first, then cover
pattern "Mud wants thump"
  go with blade round
  when murk
  because "It *shakes* the most."
pattern "Grass wants a leaf"
  go with blade leaf, then round
  when cover has soft
pattern "Cold wants a small one"
  lean to blade "size 4, red"
  when temp is cold
pattern "A lead of a half"
  go with weight 1/2 oz
fall back on blade leaf
caution "Cold water" when temp is cold
  say "Wear a life jacket."
promise "Never a leaf in mud": blade must not be leaf when clarity is muddy
promise "Always round": blade must be round when clarity is clear
`;

const analysed = (view: View): View => withAnalysis(view, analyse(view.model));
/** Hover on the nth time that the book has the words. */
const on = (view: View, words: string, shift = 0): string => hover(view, view.text.indexOf(words) + shift)?.markdown ?? "nothing";
const plain = open(book).view;
const full = analysed(plain);

describe("conditions and what they are made of", () => {
  test("a condition: its values, its question, who tests it", () => {
    expect(on(plain, "clarity")).toBe(
      [
        "**Water clarity** (`clarity`)",
        "One of clear, stained, dirty or muddy, in this order. Going up the order it gets dirtier, going down clearer.",
        "Asks: “How far down can you see a white lure?”",
        "Tested by 1 pattern and 2 other statements.",
      ].join("\n\n"),
    );
    expect(on(plain, "temp")).toContain(
      "33 °F to 95 °F, to the nearest 1 °F. Going up the order it gets warmer, going down colder. Bands: cold (below 50 °F), cool (50 °F to 69 °F), warm (70 °F and more).",
    );
    expect(on(plain, "cover")).toContain("Any of grass, pads and docks at once, or none. Groups: soft (grass and pads).");
    expect(on(plain, "day")).toContain("A day of the year.\n\nFilled from the date.");
  });
  test.each([
    ["dirty", "Number 3 of 4 in the order of Water clarity: clear, stained, **dirty**, muddy."],
    ["grass", "One of the things of Cover.\n\nPart of soft.\n\nTested by 1 pattern."],
    ["cold below", "A band of Water temperature: below 50 °F."],
    ["soft", "A group of Cover: grass or pads."],
    ["dirtier", "Goes up the order of Water clarity."],
  ])("%s", (words, said) => expect(on(plain, words)).toContain(said));
  test("where a pattern is broken nobody knows what it tests", () => {
    const text = `book "B"\ncondition sky: bright, dark\npick blade: round, leaf\nfall back on blade leaf\n`;
    expect(on(open(text).view, "sky")).toContain("Nothing tests it.");
    expect(on(open(`${text}pattern "A" go with blade rond when sky is dark\n`).view, "sky")).toContain(
      "Nothing that can be read tests it.",
    );
  });
  test("a situation: what it tests, and how often it holds once that is known", () => {
    expect(on(plain, "murk")).toBe("**murk**\n\nA situation: wherever this holds.\n\n```lore\nclarity is dirty or dirtier\n```");
    // Two of four levels.
    expect(on(full, "murk")).toContain("under 50 % of all conditions");
  });
});

describe("picks and options", () => {
  test("a pick: its options, what settles it, how it is covered", () => {
    expect(on(plain, 'blade "Blade')).toBe(
      [
        "**Blade style** (`blade`)",
        "Options: round, leaf or size 4, red.",
        "3 patterns speak of it. Trusts clarity first, then cover. Falls back on leaf. Tested by 1 pick.",
      ].join("\n\n"),
    );
    expect(on(full, 'blade "Blade')).toMatch(/Of all conditions: decided 91 %, fallback 9\.1 %\./);
    expect(on(plain, "weight:")).toContain("It applies only when\n\n```lore\nblade is round\n```");
  });
  test("an option: who recommends it, how much and where", () => {
    expect(on(plain, "leaf")).toBe("**leaf**, option of Blade style\n\nRecommended outright by “Grass wants a leaf”.");
    const said = on(full, "round,");
    // In dirty and muddy water; and in the other half of the clarities, over soft cover, as the second choice: 3 of 4 sets have soft.
    expect(said).toContain("It is the first choice under 50 % of all conditions and a later choice under 38 %.");
    expect(said).toContain("First choice where\n\n- clarity is dirty or dirtier");
  });
  test("an option that is a quantity is also given in the other units", () => {
    expect(on(plain, "1/2 oz")).toContain("**1/2 oz**, option of weight");
    expect(on(plain, "1/2 oz")).toContain("1/2 oz is about 14.2 g");
  });
});

describe("patterns, cautions, promises", () => {
  test("without an analysis, what a pattern says", () => {
    expect(on(plain, "Mud wants")).toBe(
      "**Mud wants thump**\n\n```lore\ngo with blade round\nwhen murk\n```\n\n“It \\*shakes\\* the most.”",
    );
  });
  test("with one, how much it decides, where it yields and to whom", () => {
    expect(on(full, "Mud wants")).toContain("It speaks under 50 % of all conditions.\n\nIt decides in 50 %.");
    const grass = on(full, "Grass wants");
    // 3/4 of the sets have grass or pads; in half of the clarities mud wins, clarity being trusted more.
    expect(grass).toContain(
      "It speaks under 75 % of all conditions.\n\nIt decides in 38 % and yields in 38 %.\n\n- to “Mud wants thump” in 38 %, which is trusted more",
    );
    expect(grass).toContain("It decides where\n\n- clarity is stained or clearer and cover has grass");
    expect(grass).toContain("It yields where\n\n- clarity is dirty or dirtier and cover has grass");
  });
  test("a lean yields where something is recommended outright", () =>
    expect(on(full, "Cold wants")).toContain("to “Mud wants thump” in 13 %, which recommends outright, where this only leans"));
  test("a caution and promises", () => {
    expect(on(plain, "Cold water")).toBe("**Cold water**\n\nA caution, shown beside answers.\n\nWear a life jacket.");
    expect(on(full, "Cold water")).toMatch(/under 27 % of all conditions/);
    expect(on(plain, "Never a leaf")).toContain("not worked out yet");
    expect(on(full, "Never a leaf")).toBe("**Never a leaf in mud**\n\nThe promise holds everywhere.");
    expect(on(full, "Always round")).toMatch(/The promise is broken \(share 1\/4\)\. For example: clarity clear/);
  });
  test("a title after `beats` is the pattern's", () => {
    const { view } = open(`${book}pattern "X" go with blade leaf when murk\n  beats "Mud wants thump"\n`);
    expect(hover(view, view.text.lastIndexOf("Mud wants") + 2)!.markdown).toContain("go with blade round");
  });
  test("a pattern that does not speak says so", () => {
    const { view } = open({ "base.lore": 'pick a: x\npattern "Old" go with a x\n', "b.lore": 'builds on "base.lore"\nleave out "Old"\n' });
    expect(on(view, "Old")).toMatch(/go with a x\n```\n\nIt does not speak: .* leaves it out\.$/);
    const over = open('pick a: x\npattern "Short" go with a x\n  until 2027-04-01\n', { on: "2027-05-01" }).view;
    expect(on(over, "Short")).toContain("good until 2027-04-01");
    expect(on(open('pick a: x\npattern "Half" go with a y\n').view, "Half")).toContain("cannot be read");
  });
  test("the book", () => expect(on(plain, "Blades")).toBe("**Blades**\n\n4 patterns on 2 picks, by 4 conditions."));
});

describe("quantities in other units", () => {
  const converted = (domain: string): string => {
    const { view, cursor } = open(`condition x: ${domain}\n`);
    return hover(view, cursor)?.markdown ?? "nothing";
  };
  test.each([
    // NIST Special Publication 811, appendix B: 1 oz = 28.349523125 g, 1 in = 25.4 mm, 1 mph = 0.44704 m/s, 1 kn = 1852/3600 m/s; °F = 9/5 °C + 32.
    ["‸1/8 oz to 9 oz", "1/8 oz is about 3.54 g."],
    ["1/8 oz to 3‸/4 oz", "3/4 oz is about 21.3 g"],
    ["0 to 4‸5 °F", "45 °F is about 7.22 °C."],
    ["0 to 50 °F‸", "50 °F is 10 °C."],
    ["0 to 68‸ °F", "68 °F is 20 °C."],
    ["-‸40 to 50 °C", "-40 °C is -40 °F."],
    ["0 to 10‸ ft", "10 ft is 120 in, about 3.33 yd, 305 cm or 3.05 m."],
    ["0 to 10‸ mph", "10 mph is about 8.69 kn, 4.47 m/s, 14.7 ft/s or 16.1 km/h."],
    ["0 to 90 °C, to the nearest 0‸.5 °C", "A step of 0.5 °C is a step of 0.9 °F."],
    ["5‸0 to 60 °F", "50 °F is 10 °C."],
    ["28 to 3‸0 inHg", "30 inHg is about 1016 hPa."],
    ["0 to 2 h‸", "2 h is 120 min."],
  ])("%s", (domain, said) => expect(converted(domain)).toContain(said));
  test("a number without a unit, and a unit without another of its kind, say nothing of it", () => {
    expect(converted("0 to 1‸0")).toBe("nothing");
    expect(converted("0 to 1‸0 NTU")).toBe("nothing");
  });
});

describe("words", () => {
  test("every word of the language has its line, and no line is of none", () =>
    expect(Object.keys(wordLines).sort()).toEqual(T.words.map(({ phrase }) => phrase).sort()));
  test("at its place", () => {
    const { view, cursor } = open('pattern "P"\n  go with b x\n  when a is at ‸least 3');
    expect(hover(view, cursor)).toEqual({
      range: { start: view.text.indexOf("is at least"), end: view.text.indexOf(" 3") },
      markdown: "**is at least**: This value or more.",
    });
  });
  test("nothing in comments and free texts", () => {
    for (const text of ["-- when ‸is", 'pattern "P" go with a b because "when ‸is"', "‸", "  ‸  \n"]) {
      const { view, cursor } = open(text);
      expect(hover(view, cursor)).toBeUndefined();
    }
  });
});

describe("Markdown", () => {
  test("what a book says is shown as it is written", () => {
    expect(escaped("*a* _b_ [c](d) <e> #f `g` ~h~ | \\")).toBe("\\*a\\* \\_b\\_ \\[c\\](d) \\<e\\> \\#f \\`g\\` \\~h\\~ \\| \\\\");
    expect([escaped("- a"), escaped("1. a"), escaped("a\n\nb")]).toEqual(["\\- a", "1\\. a", "a b"]);
    expect([code("a`b"), bold("*")]).toEqual(["``a`b``", "**\\***"]);
  });
  test("a title of Markdown signs makes no Markdown", () => {
    const { view } = open('pick a: x\npattern "**[x](http://y)** `z`"\n  go with a x\n');
    expect(hover(view, view.text.indexOf("[x]"))!.markdown).toMatch(/^\*\*\\\*\\\*\\\[x\\\]\(<http:\/\/y>\)/);
  });
});

test("hover answers at every name of the shipped books and of a large one, with and without an analysis", () => {
  const books = { ...shippedBooks(), "shop.lore": shopBook(120) };
  for (const path of ["hollin-cove.lore", "inshore.lore", "shop.lore"]) {
    const { view } = open(books, { root: path });
    const own = namesOf(view).mentions.filter((mention) => mention.path === path);
    const seen = new Set<string>();
    for (const { thing, range } of own) {
      if (seen.has(JSON.stringify(thing))) continue;
      seen.add(JSON.stringify(thing));
      expect([thing, hover(view, range.start)?.range]).toEqual([thing, range]);
    }
    if (path !== "shop.lore") continue;
    const known = analysed(view);
    for (const pass of ["at first", "worked out"]) {
      const open = own
        .filter(({ thing, declares }) => declares && thing.kind === "pattern")
        .filter(({ range }) => hover(known, range.start)!.markdown.includes("not worked out yet"));
      if (pass === "worked out") expect(open).toEqual([]);
      for (const { index } of known.model.patterns) decidingOf(known.analysis!, index, 40_000);
    }
  }
});
