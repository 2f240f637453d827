/** Absurd numbers, units, steps, ranges, days and times: each a finding at its place, or exactly right. */
import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { readGiven } from "../../src/answer/given.js";
import { checkIn, formatIn, readerOf, useIn } from "./everything.js";

async function errorsOf(text: string): Promise<readonly Finding[]> {
  const texts = { "x.lore": text };
  const findings = await checkIn(texts, "x.lore");
  useIn(texts, "x.lore");
  formatIn(text);
  return findings.filter(({ severity }) => severity === "error");
}

const measured = (domain: string, when = "t is above 5 ft"): string =>
  `condition t: ${domain}\npick blade: round, leaf\npattern "T"\n  go with blade leaf\n  when ${when}\nfall back on blade round\n`;
const acting = (action: string): string =>
  `condition sky: bright, dark\npick blade: round, leaf\npick load: 1/4 oz, 1/2 oz\npattern "T"\n  ${action}\n  when sky is dark\nfall back on blade round\nfall back on load 1/4 oz\n`;
const zeros = (count: number): string => "0".repeat(count);

/** Accepted: no error. Otherwise the code of the first error, and what it stands at. */
const cases: readonly (readonly [what: string, text: string, code?: string, at?: string])[] = [
  ["1e308", measured("0 to 1e308 ft"), "unit", "e308"],
  ["10^400", measured("0 to 10^400 ft"), "syntax", "^"],
  ["400 zeros", measured(`0 to 1${zeros(400)} ft`), "range", `1${zeros(400)}`],
  ["a hundred thousand digits", measured(`0 to 9${zeros(100_000)} ft`), "range"],
  ["a hundred thousand decimals", measured(`0 to 0.${zeros(100_000)}1 ft`), "range"],
  ["forty digits", measured(`0 to 1${zeros(39)} ft`)],
  ["a fraction over a long number", measured(`0 to 1/9${zeros(400)} ft`), "range"],
  ["0/0", measured("0 to 0/0 ft"), "range", "0/0"],
  ["1/0", measured("0 to 1/0 ft"), "range", "1/0"],
  ["1/0 in a test", measured("0 to 10 ft", "t is above 1/0 ft"), "range", "1/0"],
  ["1/0 as a lean", acting("lean to blade leaf by 1/0"), "range", "1/0"],
  ["-0", measured("-0 to 10 ft")],
  ["a plus sign", measured("+0 to 10 ft"), "syntax", "+"],
  ["NaN", measured("NaN to NaN ft"), "name", "NaN"],
  ["Infinity", measured("0 to Infinity ft"), "name", "Infinity"],
  ["∞", measured("0 to ∞ ft"), "syntax"],
  ["hexadecimal", measured("0 to 0x10 ft"), "unit", "x10"],
  ["a number in another script", measured("0 to ١٠ ft"), "syntax"],
  ["a step below nothing", measured("0 to 10 ft, to the nearest -1 ft"), "range", "-1 ft"],
  ["a step of nothing", measured("0 to 10 ft, to the nearest 0 ft"), "range", "0 ft"],
  ["a step that does not divide", measured("0 to 10 ft, to the nearest 3 ft"), "range", "10 ft"],
  ["a step beyond the range", measured("0 to 10 ft, to the nearest 30 ft"), "range", "10 ft"],
  ["a step of a third", measured("0 to 10 ft, to the nearest 1/3 ft")],
  ["a billion steps", measured("0 to 1000000000 ft, to the nearest 1 ft"), "range", "1 ft"],
  ["a million steps less one", measured("0 to 999999 ft, to the nearest 1 ft")],
  ["a step in another unit of the kind", measured("0 to 10 ft, to the nearest 6 in")],
  ["a step of another kind", measured("0 to 10 ft, to the nearest 1 oz"), "unit", "oz"],
  ["upside down", measured("10 to 0 ft"), "range", "10 to 0 ft"],
  ["upside down in two units", measured("10 ft to 1 m"), "range", "10 ft to 1 m"],
  ["no width", measured("5 to 5 ft"), "range", "5 to 5 ft"],
  ["no such unit", measured("0 to 10 parsec"), "unit", "parsec"],
  ["two kinds of units", measured("0 °C to 10 ft"), "unit", "°C"],
  ["a test outside", measured("0 to 10 ft", "t is above 500 ft"), "range", "500 ft"],
  ["a test upside down", measured("0 to 10 ft", "t from 9 ft to 3 ft"), "range", "9 ft to 3 ft"],
  ["a test between two steps", measured("0 to 10 ft, to the nearest 1 ft", "t is 2.5 ft"), "range", "2.5 ft"],
  ["a test between two steps, with at most", measured("0 to 10 ft, to the nearest 1 ft", "t is at most 2.5 ft")],
  ["a lean of nothing", acting("lean to blade leaf by 0"), "range", "0"],
  ["a lean below nothing", acting("lean to blade leaf by -1"), "range", "-1"],
  ["a lean of 30 digits", acting(`lean to blade leaf by 1${zeros(30)}`)],
  ["a lean of 400 digits", acting(`lean to blade leaf by 1${zeros(400)}`), "range"],
  ["a move by half", acting("move load up 1/2"), "range", "1/2"],
  ["a move by nothing", acting("move load up 0"), "range", "0"],
  ["a move by a billion", acting("move load up 1000000000")],
  ["a move by 30 digits", acting(`move load up 1${zeros(30)}`)],
  ["an option of nothing over nothing", "pick load: 0/0 oz, 1 oz\nfall back on load 1 oz\n", "range", "0/0"],
  ["the same size in two units", "pick load: 1/2 oz, 0.5 oz\nfall back on load 1/2 oz\n", "duplicate", "0.5 oz"],
  ["sizes of several kinds", "pick load: 1 oz, 1 ft\nfall back on load 1 oz\n", "unit", "1 ft"],
  ["day 0", measured("days of the year", "t is apr 0"), "range", "apr 0"],
  ["april 31", measured("days of the year", "t is apr 31"), "range", "apr 31"],
  ["february 29", measured("days of the year", "t is feb 29")],
  ["february 30", measured("days of the year", "t is feb 30"), "range", "feb 30"],
  ["24:00", measured("times of the day", "t is 24:00"), "range", "24:00"],
  ["23:59", measured("times of the day", "t is 23:59")],
  ["a day that no year has", acting("go with blade leaf\n  until 2027-02-29"), "range", "2027-02-29"],
  ["the year 0", acting("go with blade leaf\n  until 0000-01-01")],
  ["the year 9999", acting("go with blade leaf\n  checked 9999-12-31")],
  ["good for no day", `book "B"\n  good from 2027-05-01 to 2027-04-01\n${acting("go with blade leaf")}`, "range"],
  ["bands out of the range", `${measured("0 to 10 ft")}band t: low below -5 ft, high\n`, "range", "-5 ft"],
  ["bands that fall", `${measured("0 to 10 ft")}band t: low below 5 ft, mid below 3 ft, high\n`, "range", "3 ft"],
  ["bands that start together", `${measured("days of the year", "t is a")}band t: a from jan 1, b from jan 1\n`, "range", "jan 1"],
];

describe("written in a book", () => {
  for (const [what, text, code, at] of cases) {
    test(what, async () => {
      const errors = await errorsOf(text);
      if (code === undefined) {
        expect(errors).toEqual([]);
        return;
      }
      const [first] = errors;
      expect(errors.map((one) => one.code)).toContain(code);
      if (at !== undefined) expect(errors.map(({ range }) => text.slice(range.start, range.end))).toContain(at);
      expect(first!.message.length).toBeLessThan(600);
      expect(first!.help).not.toBe("");
    });
  }

  test("limits that lie as near as forty digits allow are told apart, exactly", async () => {
    const near = `5.${zeros(30)}1`;
    expect(await errorsOf(measured("0 to 10 ft", `t is above 5 ft and t is below ${near} ft`))).toEqual([]);
    const { model } = resolve(parse(measured("0 to 10 ft", `t is above 5 ft and t is below ${near} ft`), "x.lore"), readerOf({}), {});
    expect(model.axes[0]!.limits!.map((limit) => limit.toFraction())).toEqual(["0", "5", `5${zeros(30)}1/1${zeros(31)}`, "10"]);
  });

  test("three hundred limits of forty digits, whose shares are longer than any floating-point number", async () => {
    const patterns = Array.from(
      { length: 60 },
      (_, i) =>
        `pattern "P${i}"\n  go with blade leaf\n  when t is above 5.${String(i + 1).padStart(3, "0")}${"7".repeat(30)} ft and t is below 5.${String(i + 1).padStart(3, "0")}${"8".repeat(30)} ft\n`,
    ).join("");
    expect(await errorsOf(`condition t: 0 to 10 ft\npick blade: round, leaf\n${patterns}fall back on blade round\n`)).toEqual([]);
  });
});

describe("given by a customer", () => {
  const { model } = resolve(
    parse(
      `condition t: 0 to 10 ft\ncondition s: 0 to 10 ft, to the nearest 1 ft\ncondition d: days of the year\ncondition c: times of the day\ncondition cover: any of grass, docks\n${acting("go with blade leaf")}`,
      "x.lore",
    ),
    readerOf({}),
    {},
  );
  const said = (name: string, value: string): unknown => {
    const read = readGiven(model, [[name, value]]);
    return "given" in read ? read.given.values[name] : read.problems[0]!.problem;
  };

  test.each([
    ["t", "NaN"],
    ["t", "Infinity"],
    ["t", "1e3"],
    ["t", "1/0"],
    ["t", "0/0"],
    ["t", "10^2"],
    ["t", "-0.0001"],
    ["t", "10.0001"],
    ["t", "5 oz"],
    ["t", "5 parsec"],
    ["t", `5.${zeros(100)}1`],
    ["t", "9".repeat(100_000)],
    ["t", "--5"],
    ["t", "5 5"],
    ["s", "10.4"],
    ["s", "-0.4"],
    ["d", "feb 30"],
    ["d", "2027-02-29"],
    ["d", "2027-13-01"],
    ["d", "0"],
    ["c", "24:00"],
    ["c", "12:60"],
    ["c", "-1:00"],
    ["cover", "grass,none"],
    ["cover", ";"],
    ["cover", ", ,"],
    ["cover", "gras"],
    ["sky", "NaN"],
    ["sky", "constructor"],
    ["nothing", "1"],
    ["blade", "leaf"],
    ["", "1"],
  ])("%s=%s is refused in a sentence that says what would be taken", (name, value) => {
    const problem = said(name, value);
    expect(problem).toMatch(/^[^\n]{10,400}\.$/);
  });

  test.each([
    ["s", "2.5", "3 ft"],
    ["s", "2.4", "2 ft"],
    ["s", "1 m", "3 ft"],
    ["t", "1/3", "1/3 ft"],
    ["d", "feb 29", "feb 29"],
    ["d", "2028-02-29", "feb 29"],
    ["c", "5:30", "05:30"],
  ])("%s=%s is %s", (name, value, meant) => {
    expect(said(name, value)).toBe(meant);
  });
});
