/**
 * The lookup module, with nothing but a table's JSON form, says what `answer` says: at points and with any conditions unknown, on random
 * books and on those that ship. And it is small, whole and depends on nothing.
 */
import * as fc from "fast-check";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { run, type Span } from "../../src/model/span.js";
import { exampleOf } from "../../src/model/points.js";
import { lookup, type Given, type Table } from "../../src/publish/lookup/lookup.js";
import { compile } from "../../src/table/compile.js";
import { givenOf } from "../../src/answer/given.js";
import { answerJson, tableJson } from "../../src/render/json.js";
import { answer } from "../../src/answer/answer.js";
import { dice } from "../bench/books.js";
import { root } from "../cli/run.js";
import { books, thinBooks } from "../law/books.js";
import { read } from "../law/reading.js";
import { readPond } from "../table/pond.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);

/** Through text, as another program gets it. */
function tableOf(found: Answers, picks: readonly number[]): Table {
  const compiled = compile(found, { picks });
  if ("problem" in compiled) throw new Error(compiled.problem);
  return JSON.parse(JSON.stringify(tableJson(found, compiled.table))) as Table;
}

/** Every condition known or not by the dice, at a position by the dice; both forms are asked, and must say the same. */
function compared(
  found: Answers,
  tables: Table | readonly Table[],
  roll: (sides: number) => number,
  picks: readonly number[],
): "answered" | "refused" {
  const { model } = found;
  const unknown = roll(4);
  const known = model.conditions.map(() => roll(4) >= unknown);
  const box = new Map(model.axes.flatMap(({ index, size, condition }) => (known[condition] ? [[index, single(roll(size))] as const] : [])));
  const given = exampleOf(
    model,
    model.axes.map(({ index }) => box.get(index)?.[0]),
  ) as Given;
  const expected = answer(model, givenOf(model, box), () => found);
  const said = lookup(tables, given);
  const where = JSON.stringify(given);
  if ("problem" in expected) {
    expect(said, where).toMatchObject({
      problem: expected.problem.includes("at least one member") ? expect.stringMatching(/not accepted|impossible/) : "impossible",
    });
    return "refused";
  }
  if ("problem" in said) throw new Error(`${JSON.stringify(said)} at ${where}`);
  const json = answerJson(model, expected);
  expect(said.unknown, where).toEqual(json.unknown);
  expect(said.cautions, where).toEqual(json.cautions);
  for (const pick of picks) {
    const { name, options } = model.picks[pick]!;
    const [mine, theirs] = [said.picks[name]!, json.picks[name]!];
    const inOrder = (places: readonly (readonly string[])[]): string =>
      JSON.stringify(
        places.map((place) =>
          [...place].sort((a, b) => options.findIndex(({ text }) => text === a) - options.findIndex(({ text }) => text === b)),
        ),
      );
    expect([mine.status, inOrder(mine.answer), inOrder(mine.safe)], where).toEqual([
      theirs.status,
      inOrder(theirs.answer),
      inOrder(theirs.safe),
    ]);
    const shares = (possible: typeof mine.possible): readonly string[] =>
      possible.map(({ status, answer, share }) => `${status} ${inOrder(answer)} ${share}`).sort();
    expect(shares(mine.possible), where).toEqual(shares(theirs.possible));
    expect(mine.possible.every(({ share }, i) => i === 0 || sizeOf(mine.possible[i - 1]!.share) >= sizeOf(share))).toBe(true);
  }
  return "answered";
}

function single(position: number): Span {
  return run(position, position);
}

function sizeOf(share: string): number {
  const [n, d = "1"] = share.split("/");
  return Number(n) / Number(d);
}

describe("it says what answer says", () => {
  test("on random books, from one table for all and from one for each", { timeout: 240_000 }, () => {
    const seen = { answered: 0, refused: 0 };
    fc.assert(
      fc.property(fc.oneof(books({ points: 300 }), thinBooks({ points: 300 })), fc.nat(), (texts, seed) => {
        const found = answers(read(texts.texts, texts.root).model, { steps: 400_000 });
        if (!found.anythingPossible) return;
        const picks = found.model.picks.map(({ index }) => index);
        const [whole, each] = [tableOf(found, picks), picks.map((pick) => tableOf(found, [pick]))];
        const roll = dice(seed);
        for (let i = 0; i < 12; i++) seen[compared(found, i % 2 === 0 ? whole : each, roll, picks)]++;
      }),
      { numRuns: runs },
    );
    expect(seen.answered).toBeGreaterThan(runs);
    expect(seen.refused).toBeGreaterThan(0);
  });

  test.each([
    ["blades", undefined],
    ["river", undefined],
    ["inshore", undefined],
    ["hollin-cove", ["weight", "family"]],
  ])("on %s", { timeout: 240_000 }, (name, some) => {
    const texts = Object.fromEntries(
      ["rules", "rules/common"].flatMap((folder) =>
        readdirSync(join(root, folder))
          .filter((file) => file.endsWith(".lore"))
          .map((file) => [`${folder}/${file}`, readFileSync(join(root, folder, file), "utf8")]),
      ),
    );
    const found = answers(read(texts, `rules/${name}.lore`).model, { steps: 400_000 });
    const picks = found.model.picks.filter((pick) => (some ? some.includes(pick.name) : !pick.judgement)).map(({ index }) => index);
    const tables = picks.map((pick) => tableOf(found, [pick]));
    const roll = dice(3);
    const seen = Array.from({ length: 60 }, () => compared(found, tables, roll, picks));
    expect(seen).toContain("answered");
  });
});

describe("what is given", () => {
  const { answers: found } = readPond();
  const table = tableOf(found, [0, 1]);

  test("is read as the table's reader reads it", () => {
    const said = (given: Given) => JSON.stringify(lookup(table, given));
    expect(said({ cover: "grass;docks", depth: 12 })).toBe(said({ cover: ["docks", "grass"], depth: "12 ft" }));
    expect(said({ cover: "none", clarity: null, "water-temp": "60.5" })).toBe(said({ cover: [], "water-temp": "61 °F" }));
  });

  test("is refused if it is none, and never taken for unknown", () => {
    expect(lookup(table, { clarty: "muddy" })).toEqual({ problem: "no such condition", condition: "clarty" });
    expect(lookup(table, { clarity: "mudy" })).toEqual({ problem: "not accepted", condition: "clarity" });
    expect(lookup(table, { "water-temp": 20 })).toEqual({ problem: "not accepted", condition: "water-temp" });
    expect(lookup(table, { day: "jan 5", "water-temp": 80 })).toEqual({ problem: "impossible", because: "never logged here" });
  });

  test("with nothing given, nothing is assumed", () => {
    const said = lookup(table, {});
    expect(said).toMatchObject({
      picks: { color: { status: "depends", answer: [] } },
      cautions: [{ caution: "Cold water", may: true }],
      unknown: ["clarity", "cover", "water-temp", "depth", "day"],
    });
  });
});

describe("the file that is shipped", () => {
  const file = (name: string): string => readFileSync(join(root, "dist/lookup", name), "utf8");

  test("is one module of less than 5 kB gzip, with nothing to import, and says the same", async () => {
    expect(existsSync(join(root, "dist/lookup/lookup.js")), "npm run build").toBe(true);
    expect(gzipSync(file("lookup.js")).length).toBeLessThan(5_000);
    expect(file("lookup.js")).not.toMatch(/\b(import|require)\b/);
    const shipped = (await import(join(root, "dist/lookup/lookup.js"))) as { readonly lookup: typeof lookup };
    const table = tableOf(readPond().answers, [0, 1, 2]);
    for (const given of [{}, { clarity: "muddy" }, { cover: ["docks"], depth: 3, "water-temp": 50 }] satisfies Given[])
      expect(shipped.lookup(table, given)).toEqual(lookup(table, given));
  });

  test("has types that stand alone", () => {
    expect(file("lookup.d.ts")).toContain("export declare function lookup");
    expect(file("lookup.d.ts")).not.toMatch(/\bimport\b/);
  });
});
