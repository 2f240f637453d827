/** What sound books are read into. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse } from "../../src/syntax/parse.js";
import type { Pattern, Situation, Statement, Test } from "../../src/syntax/tree.js";

function statement<K extends Statement["kind"]>(text: string, kind: K): Extract<Statement, { kind: K }> {
  const { tree, findings } = parse(text, "x.lore");
  expect(findings).toEqual([]);
  expect(tree.statements.map((one) => one.kind)).toEqual([kind]);
  return tree.statements[0] as Extract<Statement, { kind: K }>;
}

/** A test of the language as it was understood: every joining in parentheses. */
function heard(text: string): string {
  return say(statement(`situation x: ${text}`, "situation").test);
}
function say(test: Test | undefined): string {
  switch (test?.kind) {
    case undefined:
      return "?";
    case "and":
    case "or":
      return `(${test.parts.map(say).join(` ${test.kind} `)})`;
    case "not":
      return `not ${say(test.part)}`;
    case "parentheses":
      return say(test.part);
    case "situation":
      return test.name.text;
    case "compare": {
      const { range: _, ...relation } = test.relation!;
      const words = JSON.stringify(relation, (key, value: unknown) => (key === "range" ? undefined : value));
      return `${test.subject.text} ${[...words.matchAll(/"(?:form|text|word|number|limit|value|month|day)":(?:"([^"]*)"|(\d+))/g)].map(([, one, two]) => one ?? two).join(" ")}`.trim();
    }
  }
}

test("the example of the language is sound from end to end", () => {
  const { tree, findings, broken } = parse(readFileSync(new URL("../books/hollin.lore", import.meta.url), "utf8"), "hollin.lore");
  expect(findings).toEqual([]);
  expect(broken.size).toBe(0);
  expect(tree.statements.length).toBe(31);
  expect(tree.comments.map(({ text }) => text)).toEqual(["What the water is like: what a customer can tell you.", "What we recommend."]);
});

test("a condition may be called by a word that matters elsewhere", () => {
  for (const name of ["sun", "day", "date", "water", "first", "up", "below", "order", "in", "back", "shop"]) {
    const { findings, tree } = parse(
      `condition ${name}: a, b\npattern "p" move ${name} up when ${name} is up or first and ${name} only down, sun trust ${name} first, then ${name}`,
      "x",
    );
    expect(findings).toEqual([]);
    expect(tree.statements.map(({ kind }) => kind)).toEqual(["condition", "pattern", "trust"]);
  }
});

test("ranges run from the first to the last word", () => {
  const text = '-- a\npattern "p" -- b\n  move x up 1\n  when a is b -- c\n\nsituation y: z';
  const [pattern, situation] = parse(text, "x").tree.statements as [Pattern, Situation];
  const at = ({ range }: { range: { start: number; end: number } }): string => text.slice(range.start, range.end);
  expect(at(pattern)).toBe('pattern "p" -- b\n  move x up 1\n  when a is b');
  expect(at(pattern.actions[0]!)).toBe("move x up 1");
  expect(at(pattern.when!)).toBe("a is b");
  expect(at(situation)).toBe("situation y: z");
});

describe("tests are heard", () => {
  test.each([
    ["clarity is dirty or dirtier, or sky is dark", "(clarity is dirty dirtier or sky is dark)"],
    ["a and b, or c", "((a and b) or c)"],
    ["a, or b", "(a or b)"],
    ["a or b or c", "(a or b or c)"],
    ["a or b, or c and d", "(a or b or (c and d))"],
    ["(a or b) and c", "((a or b) and c)"],
    ["cover only grass, pads, or sky is dark", "(cover only grass pads or sky is dark)"],
    ["cover has any of grass, pads and sky is dark", "(cover has any of grass pads and sky is dark)"],
    ["clarity is muddy or sky is dark", "(clarity is muddy or sky is dark)"],
    ["clarity is muddy or low-vision", "clarity is muddy low-vision"],
    ["clarity is muddy or not low-vision", "(clarity is muddy or not low-vision)"],
    ["clarity is muddy or (low-vision)", "(clarity is muddy or low-vision)"],
    ["clarity is muddy or cover only grass", "(clarity is muddy or cover only grass)"],
    ["clarity is muddy or day from apr 15 to may 20", "(clarity is muddy or day 4 15 5 20)"],
    ["day is from apr 15 to may 20", "day 4 15 5 20"],
    ["water-temp is colder than 60 °F", "water-temp colder 60 °F"],
    ["water-temp is 66 °F or warmer", "water-temp is 66 °F warmer"],
    ["water-temp is above 3/8 oz", "water-temp above 3/8 oz"],
    ["size is 4.5 or 5", "size is 4.5 5"],
    ["clarity is neither clear nor muddy nor dirty", "clarity is neither clear muddy dirty"],
    ["not not clarity is not clear", "not not clarity is not clear"],
    ["cover is empty", "cover"],
    ["not cover is not empty", "not cover"],
  ])("%s", (text, expected) => {
    expect(heard(text)).toBe(expected);
  });
});

describe("what is written", () => {
  test("places, leans, nevers and moves", () => {
    const { actions } = statement(
      'pattern "p" go with blade colorado or indiana, then "big willow" lean off size 4, 5 by 1/2 never weight 1 1/2 oz or heavier move weight down',
      "pattern",
    );
    expect(JSON.parse(JSON.stringify(actions, (key, value: unknown) => (key === "range" ? undefined : value)))).toEqual([
      {
        kind: "go with",
        pick: { text: "blade" },
        places: [
          [
            { kind: "name", text: "colorado" },
            { kind: "name", text: "indiana" },
          ],
          [{ kind: "text", value: "big willow" }],
        ],
      },
      {
        kind: "lean off",
        pick: { text: "size" },
        options: [
          { kind: "quantity", number: "4" },
          { kind: "quantity", number: "5" },
        ],
        by: { number: "1/2" },
      },
      {
        kind: "never",
        pick: { text: "weight" },
        options: [{ kind: "quantity", number: "1 1/2", unit: { text: "oz" } }],
        orWord: { text: "heavier" },
      },
      { kind: "move", pick: { text: "weight" }, direction: "down" },
    ]);
  });

  test("clauses in any order", () => {
    const pattern = statement(
      'pattern "p" until 2027-12-31 beats "q", "r" see "s", "t" checked 2027-02-01 because "u" when a move b up',
      "pattern",
    );
    expect([pattern.until?.text, pattern.checked?.text, pattern.because?.value, pattern.when?.kind]).toEqual([
      "2027-12-31",
      "2027-02-01",
      "u",
      "situation",
    ]);
    expect([pattern.beats, pattern.see].map((list) => list.map(({ value }) => value))).toEqual([
      ["q", "r"],
      ["s", "t"],
    ]);
  });

  test("several picks on which nothing is said, and every duty of a promise", () => {
    const { picks, when } = statement('say nothing on family, blade,\n  weight because "Closed." when cover is not empty', "say nothing");
    expect([picks.map(({ text }) => text), when?.kind === "compare" && when.relation?.kind]).toEqual([
      ["family", "blade", "weight"],
      "is not empty",
    ]);
    const musts = ["be leaf", "not be leaf", "have an answer", "have no answer"];
    expect(musts.map((must) => statement(`promise "p": blade must ${must} when a`, "promise").must)).toEqual(
      musts.map((must) => must.replace(" leaf", "")),
    );
  });

  test("sets, scales, measures, days and times", () => {
    const domain = (words: string): unknown =>
      JSON.parse(
        JSON.stringify(statement(`condition x "X": ${words}`, "condition").domain, (key, value: unknown) =>
          key === "range" ? undefined : value,
        ),
      );
    expect(domain("any of a, b, at least one")).toEqual({ kind: "set", members: [{ text: "a" }, { text: "b" }], atLeastOne: true });
    expect(domain("in order a, b")).toEqual({ kind: "scale", ordered: true, levels: [{ text: "a" }, { text: "b" }] });
    expect(domain("33 to 95 furlongs to the nearest 1 kPa")).toEqual({
      kind: "measure",
      low: { kind: "quantity", number: "33" },
      high: { kind: "quantity", number: "95", unit: { text: "furlongs" } },
      step: { kind: "quantity", number: "1", unit: { text: "kPa" } },
    });
    expect([domain("days of the year"), domain("times of the day")]).toEqual([{ kind: "days" }, { kind: "times" }]);
  });

  test("bands of days and times", () => {
    const [first, second] = statement("band t: dawn from 05:30, day from 8:00".replace("8:00", "08:00"), "band").parts;
    expect([first?.from?.kind, second?.from]).toMatchObject(["time", { kind: "time", text: "08:00" }]);
  });

  test("names that are written alike are alike", () => {
    const [composed, apart] = ["condition caf\u00e9: a, b", "condition cafe\u0301: a, b"].map(
      (text) => statement(text, "condition").name!.text,
    );
    expect(composed).toBe(apart);
  });
});
