/** The grammar itself: sound by the parser generator's own checks, every word once, and the reference made from it. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { LoreParser, statementRules } from "../../grammar/parser.js";
import { formalMarks, withFormalPart } from "../../grammar/reference.js";
import { makeLexer, StatementStart, words } from "../../grammar/tokens.js";
import { examples, roles } from "../../src/messages/syntax.js";

const lexer = makeLexer({ validate: true });
const kinds = (text: string): string[] => lexer.tokenize(text).tokens.map(({ tokenType, image }) => `${tokenType.name} ${image}`);

describe("the grammar", () => {
  test("has no ambiguity and no other fault that its generator can find", () => {
    expect(() => new LoreParser({ validate: true })).not.toThrow();
    expect(lexer.lexerDefinitionErrors).toEqual([]);
  });

  test("holds every word once", () => {
    const phrases = words.flatMap(({ phrase, instead }) => [phrase, ...instead]);
    expect(new Set(phrases).size).toBe(phrases.length);
    for (const { phrase, token } of words) expect(kinds(phrase)).toEqual([`${token.name} ${phrase}`]);
  });

  test("has a rule for every word that starts a statement", () => {
    const starts = words.filter(({ token }) => token.CATEGORIES?.includes(StatementStart));
    expect(starts.filter(({ token }) => !statementRules.has(token))).toEqual([]);
    expect(starts.length).toBe(statementRules.size);
  });

  test("is what findings speak of: every role and example names a rule", () => {
    const rules = new Set(Object.keys(new LoreParser({ validate: false }).getGAstProductions()));
    expect([...Object.keys(roles), ...Object.keys(examples)].filter((rule) => !rules.has(rule))).toEqual([]);
  });

  test("is what the reference says", () => {
    const reference = readFileSync(new URL("../../grammar/reference.md", import.meta.url), "utf8");
    expect(reference).toContain(formalMarks.start);
    expect(reference === withFormalPart(reference), "run `npm run reference`").toBe(true);
  });
});

describe("words and names", () => {
  test.each([
    ["go-with-x is-it pattern-like when-", ["Name go-with-x", "Name is-it", "Name pattern-like", "When when"]],
    ["go  with", ["GoWith go  with"]],
    ["go\n\twith", ["GoWith go\n\twith"]],
    ["go with-care", ["Name go", "Name with-care"]],
    ["in order order in", ["InOrder in order", "Name order", "Name in"]],
    ["is at least is at", ["IsAtLeast is at least", "Is is", "Name at"]],
    ["rising is rising", ["RisingIs rising is", "Name rising"]],
    ["say nothing on say", ["SayNothingOn say nothing on", "Say say"]],
    ["only when only", ["OnlyWhen only when", "Only only"]],
    ["ändern süß прозрачная 水 हिन्दी ไทย é", ["Name ändern", "Name süß", "Name прозрачная", "Name 水", "Name हिन्दी", "Name ไทย", "Name é"]],
    ["apr 15 apr may 5 maybe 5", ["Day apr 15", "Name apr", "Day may 5", "Name maybe", "Number 5"]],
    [
      "1/2 oz 1 1/2 4.5 -90 1,200 2027-04-15 05:30",
      ["Number 1/2", "Name oz", "Number 1 1/2", "Number 4.5", "Number -90", "Number 1,200", "Date 2027-04-15", "Time 05:30"],
    ],
    [
      "50°F 50 % 3 m³/s 3m3/s 5 inHg 6 F 7 C",
      [
        "Number 50",
        "Unit °F",
        "Number 50",
        "Unit %",
        "Number 3",
        "Unit m³/s",
        "Number 3",
        "Unit m3/s",
        "Number 5",
        "Unit inHg",
        "Number 6",
        "Unit F",
        "Number 7",
        "Unit C",
      ],
    ],
    ['"a" "b', ['ClosedText "a"', 'UnclosedText "b']],
    ["a--b -- c\nd", ["Name a", "Name d"]],
  ])("%j", (text, expected) => {
    expect(kinds(text)).toEqual(expected);
  });
});
