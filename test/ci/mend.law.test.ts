/** What `--fix` may not touch: what was said. A unit, a name, a number, however it is spelt, stays as it was written, for only a person knows which was meant. */
import * as fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import * as T from "../../grammar/tokens.js";
import { mend } from "../../src/faces/check/mend.js";
import { units, unitWords } from "../../src/model/quantities.js";
import { parse } from "../../src/syntax/parse.js";
import { root } from "../root.js";

test.each(["mm", "mg", "km", "mi"])("%s is a unit of the language, and stays", (unit) => {
  const text = `book "B"\ncondition x: 0 to 100 ${unit}\npick act: a, b\npattern "P" go with act a when x is at least 4 ${unit}\n`;
  expect(mend({ path: "b.lore", text }, () => ({ problem: "is not here" }))).toEqual({ text, changes: [] });
});

test("no unit is rewritten, neither a known one nor one that is misspelt", { timeout: 60_000 }, () => {
  const spellings = [...units.keys(), ...unitWords.keys()].filter((unit) => /^[a-z]+$/.test(unit));
  const misspelt = fc
    .tuple(fc.constantFrom(...spellings), fc.nat(), fc.constantFrom(..."abcdefghijklmnopqrstuvwxyz", ""), fc.boolean())
    .map(([unit, at, letter, instead]) => {
      const place = at % (unit.length + 1);
      return unit.slice(0, place) + letter + unit.slice(place + (instead ? 1 : 0));
    })
    .filter((unit) => unit.length > 0);
  fc.assert(
    fc.property(
      fc.oneof(misspelt, fc.constantFrom(...spellings)),
      fc.constantFrom("ft", "°F", "oz", "mph"),
      fc.nat(40),
      (unit, own, amount) => {
        const text = `book "B"\ncondition x: 0 to 100 ${own}\npick act: a, b\npattern "P" go with act a when x is at least ${amount} ${unit}\n`;
        const mended = mend({ path: "b.lore", text }, () => ({ problem: "is not here" })).text;
        expect(/at least (.*)/.exec(mended)?.[1]).toBe(`${amount} ${unit}`);
      },
    ),
    { numRuns: 300 },
  );
});

const nowhere = { problem: "is not here" } as const;
const mended = (text: string): string => mend({ path: "b.lore", text }, () => nowhere).text;

const small = (line: string): string => `book "B"
condition clarity: in order clear, stained, muddy
condition weeds: any of reeds, docks
pick act: a, b
${line}
`;

test.each([
  ["another name", 'pattern "P" go with act a when weeds has weeds'],
  ["a capital in a name", 'pattern "P" go with act a when Clarity is muddy'],
  ["a forgotten and", 'pattern "P" go with act a when clarity is muddy, weeds is empty'],
  ["a misspelt never", 'pattern "P" go with act a nevr act b'],
  ["a word that leans", 'pattern "P" prefer act a when clarity is muddy'],
  ["a word that rules out", 'pattern "P" avoid act a when clarity is muddy'],
  ["unless", 'pattern "P" go with act a unless clarity is muddy'],
  ["another spelling of a number", "condition depth: 0 to 1,000 ft"],
  ["a day the other way round", 'pattern "P" go with act a when day is 15 april'],
])("%s is offered, not mended", (_, line) => {
  const text = small(line);
  expect(parse(text, "b.lore").findings.length + Number(line.includes("has weeds"))).toBeGreaterThan(0);
  expect(mended(text)).toBe(text);
});

test.each([
  ["words in capitals", 'PATTERN "P" Go With act a', 'pattern "P" go with act a'],
  ["other forms", 'pattern "P" use act a if clarity isn\'t muddy', 'pattern "P" go with act a when clarity is not muddy'],
  ["misspelt words", 'pattern "P" go wth act a whne clarity is muddy', 'pattern "P" go with act a when clarity is muddy'],
  ["quotation marks", "pattern “P” go with act a because They feel it.", 'pattern "P" go with act a because "They feel it."'],
])("%s are mended", (_, line, meant) => {
  expect(mended(small(line))).toBe(small(meant));
});

describe("whatever is damaged", () => {
  const { lexer } = { lexer: T.makeLexer({ validate: false }) };
  const literals = [T.Number, T.Unit, T.Day, T.Date, T.Time];
  /** What is said, texts included, apart from the words of the language; of those, how often something is joined, denied, ruled out and leaned. */
  const said = (text: string) => {
    const { tokens } = lexer.tokenize(text.replace(/["“”„]/g, " "));
    const count = (pattern: RegExp): number => text.toLowerCase().match(pattern)?.length ?? 0;
    return {
      literals: tokens.filter(({ tokenType }) => literals.includes(tokenType)).map(({ image }) => image),
      names: tokens.filter(({ tokenType }) => tokenType === T.Name).map(({ image }) => image),
      joined: [count(/\band\b/g), count(/\bn?or\b/g), count(/\bno(?:t|ne)?\b|n't\b/g), count(/\bnever\b/g), count(/\blean\b/g)],
    };
  };
  const book = readFileSync(`${root}/rules/blades.lore`, "utf8");
  const pieces = [...book.matchAll(/[\p{L}\d]+|[^\s\p{L}\d]/gu)].map(({ index, 0: { length } }) => ({ start: index, end: index + length }));
  const damage = fc.record({
    at: fc.nat(),
    how: fc.constantFrom("drop a letter", "double a letter", "swap two letters", "drop it", "double it", "capital", "other sign"),
    sign: fc.constantFrom(",", ";", "—", "“", '"', "'", "or", "unless", "but", "otherwise", "1/2", "in"),
    place: fc.nat(),
  });
  const damaged = (text: string, { at, how, sign, place }: typeof damage extends fc.Arbitrary<infer D> ? D : never): string => {
    const { start, end } = pieces[at % pieces.length]!;
    const word = text.slice(start, end);
    const i = place % word.length;
    const other = {
      "drop a letter": word.slice(0, i) + word.slice(i + 1),
      "double a letter": word.slice(0, i + 1) + word.slice(i),
      "swap two letters": word.slice(0, i) + (word[i + 1] ?? "") + word[i]! + word.slice(i + 2),
      "drop it": "",
      "double it": `${word} ${word}`,
      capital: word[0]!.toUpperCase() + word.slice(1),
      "other sign": sign,
    }[how];
    return text.slice(0, start) + other + text.slice(end);
  };

  test(
    "what is mended has the same names, numbers and joints in the same order, and what could be read stays as it was",
    { timeout: 120_000 },
    () => {
      let changed = 0;
      fc.assert(
        fc.property(damage, (one) => {
          const before = damaged(book, one);
          const after = mended(before);
          if (after === before) return;
          changed++;
          const [was, is] = [said(before), said(after)];
          expect(is.joined).toEqual(was.joined);
          expect(is.literals).toEqual(was.literals);
          let next = 0;
          for (const name of is.names) {
            next = was.names.indexOf(name, next) + 1;
            expect(next, `${name} was not there before`).toBeGreaterThan(0);
          }
          const { tree, broken } = parse(before, "b.lore");
          for (const statement of tree.statements)
            if (!broken.has(statement)) expect(after).toContain(before.slice(statement.range.start, statement.range.end).trim());
        }),
        { numRuns: 400 },
      );
      expect(changed).toBeGreaterThan(10);
    },
  );
});
