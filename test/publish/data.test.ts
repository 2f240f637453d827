/** The data files of a book: shapes by their schema, charts and lines by what the table says, and never a gap that is not said. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "csv-parse/sync";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { dataFiles } from "../../src/publish/data-files.js";
import { lookup, type Table } from "../../src/publish/lookup/lookup.js";
import { read } from "../law/reading.js";
import { readPond } from "../table/pond.js";

const validate = new Ajv2020({ strict: true, strictRequired: false, allErrors: true }).compile(
  JSON.parse(readFileSync(new URL("../../src/schema/table.json", import.meta.url), "utf8")) as object,
);

describe("a small book", () => {
  const { model, answers: found } = readPond();
  const files = new Map(dataFiles(model, found).map(({ path, text }) => [path, text]));

  test("has one table for all picks, one for each, and charts to read", () => {
    expect([...files.keys()]).toEqual([
      "table.json",
      "table.csv",
      "pick-color.json",
      "pick-color.csv",
      "pick-weight.json",
      "pick-weight.csv",
      "pick-trailer.json",
      "pick-trailer.csv",
      "tables.md",
    ]);
    for (const text of files.values()) expect(text.endsWith("\n")).toBe(true);
  });

  test("every JSON file is a table by its schema, and both kinds answer the same", () => {
    const json = [...files].filter(([path]) => path.endsWith(".json")).map(([, text]) => JSON.parse(text) as Table);
    for (const table of json) expect(validate(table) ? [] : validate.errors).toEqual([]);
    const [whole, ...each] = json as [Table, ...Table[]];
    for (const given of [{}, { clarity: "muddy" }, { cover: ["pads"], depth: "10 ft" }]) {
      const [one, other] = [lookup(whole, given), lookup(each, given)];
      if ("problem" in one || "problem" in other) throw new Error("refused");
      for (const { name } of model.picks) expect({ ...other.picks[name], because: [] }).toEqual({ ...one.picks[name], because: [] });
      expect(other.cautions).toEqual(one.cautions);
    }
  });

  test("the lines of a pick are the rows of its table", () => {
    const lines = parse<Record<string, string>>(files.get("pick-color.csv")!, { columns: true });
    const { rows } = JSON.parse(files.get("pick-color.json")!) as Table;
    expect(lines.map((line) => line["color status"])).toEqual(rows.map(({ picks }) => picks["color"]!.status));
  });

  test("cautions stand in the charts and in every table", () => {
    for (const path of ["tables.md", "table.json", "pick-weight.json"]) expect(files.get(path)).toContain("Wear a life jacket.");
  });
});

describe("a book with", () => {
  test("nothing to recommend has no files", () => {
    const { model } = read({ "x.lore": 'book "Nothing"\ncondition clarity "Clarity": clear, muddy\n' }, "x.lore");
    expect(dataFiles(model, answers(model, { steps: 1000 }))).toEqual([]);
  });

  test("too much to put in one table has one for each pick only", () => {
    // Picks that have nothing to do with each other: 8 × 8 × 8 × 8 rows together, 8 alone.
    const levels = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => `l${n}`);
    const part = (n: number): string =>
      [
        `condition c${n} "C": ${levels.join(", ")}`,
        `pick p${n} "P": ${levels.join(", ")}`,
        ...levels.map((level) => `pattern "${n} ${level}"\n  go with p${n} ${level}\n  when c${n} is ${level}`),
      ].join("\n");
    const text = `book "Four"\n${[1, 2, 3, 4].map(part).join("\n")}\n`;
    const { model, faults } = read({ "x.lore": text }, "x.lore");
    expect(faults).toEqual([]);
    expect(dataFiles(model, answers(model, { steps: 400_000 })).map(({ path }) => path)).toEqual(
      [1, 2, 3, 4].flatMap((n) => [`pick-p${n}.json`, `pick-p${n}.csv`]).concat("tables.md"),
    );
  });
});
