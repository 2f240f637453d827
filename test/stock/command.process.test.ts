/** `waterlore stock` and `waterlore check --days` as a user runs them, on the invented stock and log of Hollin Landing. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { folder, run } from "../cli/run.js";
import { root } from "../root.js";

const [book, list, log] = ["rules/blades.lore", "rules/stock/hollin-landing.csv", "rules/stock/hollin-log.csv"];
const schema = (name: string) =>
  new Ajv2020({ strict: true, strictRequired: false, allErrors: true }).compile(
    JSON.parse(readFileSync(`${root}/src/schema/${name}.json`, "utf8")) as object,
  );
const on = ["--on", "2027-04-15"];

describe("the whole report, byte for byte", () => {
  test.each([
    ["plain.txt", [book, list]],
    ["days.txt", [book, list, "--days", log]],
    ["days.md", [book, list, "--days", log, "--format", "markdown"]],
    ["days.csv", [book, list, "--days", log, "--format", "csv"]],
  ])("%s", async (name, words) => {
    const ran = run(root, ["stock", ...words, ...on]);
    expect([ran.exit, ran.err]).toEqual([0, ""]);
    await expect(ran.out).toMatchFileSnapshot(`golden/${name}`);
  });

  test("as JSON it is of the shape that its schema says", () => {
    const fits = schema("stock-report");
    for (const words of [
      [book, list],
      [book, list, "--days", log],
    ]) {
      const report = JSON.parse(run(root, ["stock", ...words, "--format", "json", ...on]).out) as {
        readonly lots: readonly { readonly answers: readonly { readonly share: string }[] }[];
      };
      expect(fits(report), JSON.stringify(fits.errors)).toBe(true);
      expect(fits({ ...report, lots: [{ ...report.lots[0]!, answers: [{ ...report.lots[0]!.answers[0]!, share: 0.5 }] }] })).toBe(false);
    }
  });
});

describe("what cannot be taken", () => {
  test("bad rows are said, the others count, and the exit code is 2", () => {
    const cwd = folder({
      "stock.csv": "item;blade;in stock\nGood;round;3\nBad;rund;3\nLong;round;3;9\n",
      "log.csv": "clarity,trips\nmuddy,2\nmurky,1\n",
    });
    const ran = run(cwd, ["stock", `${root}/${book}`, "stock.csv", "--days", "log.csv", ...on]);
    expect(ran.exit).toBe(2);
    expect(ran.err).toMatch(/Row 3, column blade: .*“rund”.*Did you mean round\?/);
    expect(ran.err).toMatch(/Row 4: There are more cells/);
    expect(ran.err).toMatch(/stock\.csv: Rows 3 and 4 are left out/);
    expect(ran.err).toMatch(/Row 3, column clarity: .*murky/);
    expect(ran.out).toMatch(/1 item, 1 of them in stock/);
    expect(ran.out).toMatch(/1 logged day with 2 trips/);
  });

  test.each([
    ["item,colour,in stock\nA,b,3\n", /There is nothing called “colour”/],
    ["item,blade\nA,round\n", /no column “in stock”/],
    ["", /is empty/],
    ["item,in stock\nA,3\n", /Add a column for a pick/],
  ])("%j ends the command with a sentence", (text, problem) => {
    const ran = run(folder({ "stock.csv": text }), ["stock", `${root}/${book}`, "stock.csv"]);
    expect([ran.exit, ran.out]).toEqual([2, ""]);
    expect(ran.err).toMatch(problem);
    expect(ran.err).not.toMatch(/\bat .*:\d+:\d+/);
  });

  test("a file that is not there, a log without a day", () => {
    expect(run(folder(), ["stock", `${root}/${book}`, "none.csv"])).toMatchObject({
      exit: 2,
      err: "Cannot read none.csv: there is no such file.\n",
    });
    expect(run(folder({ "log.csv": "clarity\n" }), ["stock", `${root}/${book}`, `${root}/${list}`, "--days", "log.csv"]).err).toMatch(
      /log\.csv has no day/,
    );
  });
});

describe("check --days", () => {
  test("weighs coverage by the days of the log", () => {
    const cwd = folder({
      "a.lore":
        'book "A"\ncondition sky: bright, dark\npick blade: round, leaf\npattern "Dark"\n  go with blade round\n  when sky is dark\n',
      "log.csv": "day,sky,trips\n2027-04-01,bright,3\n2027-04-02,dark,5\n2027-04-03,,4\n",
    });
    const json = JSON.parse(run(cwd, ["check", "a.lore", "--days", "log.csv", "--format", "json"]).out) as {
      readonly coverage: readonly { readonly shares: object }[];
      readonly log: object;
    };
    // 3 trips on a bright day and half of 4 have no answer: 5 of 12.
    expect(json.coverage[0]!.shares).toMatchObject({ gap: "5/12", decided: "7/12" });
    expect(json.log).toEqual({ path: "log.csv", days: 3, trips: "12" });
    const fits = schema("findings");
    expect(fits(json), JSON.stringify(fits.errors)).toBe(true);
    expect(run(cwd, ["check", "a.lore", "--days", "log.csv"]).out).toMatch(
      /on the 3 days of log\.csv:\n\s+decided\s+gap\n\s+blade\s+58 %\s+42 %/,
    );
  });

  test("is for one book, and a bad row makes the exit code 2", () => {
    const text = 'book "A"\ncondition sky: bright, dark\npick blade: round, leaf\nfall back on blade round\n';
    const cwd = folder({ "a.lore": text, "b.lore": text, "log.csv": "sky\nbright\npink\n" });
    expect(run(cwd, ["check", "a.lore", "b.lore", "--days", "log.csv"])).toMatchObject({ exit: 2, out: "" });
    const ran = run(cwd, ["check", "a.lore", "--days", "log.csv"]);
    expect(ran.exit).toBe(2);
    expect(ran.err).toMatch(/Row 3, column sky: .*pink/);
    expect(ran.out).toMatch(/on the 1 day of log\.csv/);
  });
});
