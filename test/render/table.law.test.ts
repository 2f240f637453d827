/**
 * The table's laws, tried on random small books: it says at every possible point what direct evaluation says, its rows are disjoint
 * and together cover every possible point, and its JSON form says the same.
 */
import { Ajv2020 } from "ajv/dist/2020.js";
import * as fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { answersAt, frontOf } from "../../src/analysis/point.js";
import type { Point } from "../../src/analysis/outcome.js";
import type { Model } from "../../src/model/model.js";
import { exampleOf } from "../../src/model/points.js";
import { disjoint, holds } from "../../src/model/span.js";
import { compile, type Table } from "../../src/table/compile.js";
import { tableJson } from "../../src/render/json.js";
import { outcomeAt, rowAt } from "../table/rows.js";
import { lookup } from "../../src/publish/lookup/lookup.js";
import { books, type Sizes } from "../law/books.js";
import { canonical, isPossible, pointInWords, possiblePoints } from "../law/points.js";
import { read } from "../law/reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);
const LIMITS = { steps: 400_000 };

interface Compiled {
  readonly model: Model;
  readonly points: readonly Point[];
  readonly answers: ReturnType<typeof answers>;
  readonly tables: readonly Table[];
}

/** One table for all picks, and one for each pick and judgement. */
function law(
  name: string,
  holds: (compiled: Compiled) => void,
  { numRuns = runs, ...sizes }: Sizes & { readonly numRuns?: number } = {},
): void {
  test(name, { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(books({ points: 300, ...sizes }), (texts) => {
        const { model } = read(texts.texts, texts.root);
        const points = [...possiblePoints(model)].map(({ point }) => point);
        if (points.length === 0) return;
        const found = answers(model, LIMITS);
        const tables = [model.picks.map(({ index }) => index), ...model.picks.map(({ index }) => [index])].map((picks) =>
          tableOf(compile(found, { picks })),
        );
        holds({ model, points, answers: found, tables });
      }),
      { numRuns, ...(seed === undefined ? {} : { seed }) },
    );
  });
}

function tableOf(compiled: ReturnType<typeof compile>): Table {
  if ("problem" in compiled) throw new Error(compiled.problem);
  return compiled.table;
}

describe("the table", () => {
  law("says at every possible point what direct evaluation says, for every pick", ({ model, points, tables }) => {
    for (const point of points) {
      const direct = answersAt(model, point);
      for (const table of tables)
        for (const pick of table.picks)
          expect(outcomeAt(table, point, pick) && canonical(outcomeAt(table, point, pick)!), pointInWords(model, point)).toEqual(
            canonical(direct[pick]!.outcome),
          );
    }
  });

  law("has disjoint rows, each with a possible example of its own", ({ model, tables }) => {
    for (const { rows } of tables)
      rows.forEach((row, i) => {
        expect(isPossible(model, row.example)).toBe(true);
        expect([...row.box].every(([axis, span]) => holds(span, row.example[axis]!))).toBe(true);
        for (const other of rows.slice(i + 1))
          expect(
            [...row.box].some(([axis, span]) => other.box.has(axis) && disjoint(span, other.box.get(axis)!)),
            "two rows share a point",
          ).toBe(true);
      });
  });

  law("names, for every row, the patterns whose go withs give the answer somewhere in it", ({ model, points, tables }) => {
    for (const point of points) {
      const direct = answersAt(model, point);
      for (const table of tables)
        for (const pick of table.picks)
          if (direct[pick]!.outcome.places.length > 0)
            for (const pattern of direct[pick]!.standing) expect(rowAt(table, point)!.because).toContain(pattern);
    }
  });
});

describe("a table in which tested picks have columns", () => {
  let seen = 0;
  law(
    "has just one row for every possible point, with its answer, the patterns that give it, and a possible example",
    ({ model, points, answers }) => {
      for (const pick of model.picks) {
        const table = tableOf(compile(answers, { picks: [pick.index], chained: true }));
        if (table.tested.length === 0) continue;
        seen++;
        const alone = tableOf(compile(answers, { picks: [pick.index] }));
        expect(alone.rows.length).toBeGreaterThan(2 * table.rows.length);
        for (const { example } of table.rows) expect(isPossible(model, example)).toBe(true);
        for (const point of points) {
          const direct = answersAt(model, point);
          const fronts = new Map(
            table.tested.map((tested) => [
              tested.variable,
              tested.fronts.findIndex((front) => String(front) === String(frontOf(direct[tested.pick]!.outcome))),
            ]),
          );
          const there = table.rows.filter(({ box }) =>
            [...box].every(([variable, span]) => holds(span, fronts.get(variable) ?? point[variable]!)),
          );
          expect(there.length, pointInWords(model, point)).toBe(1);
          expect(canonical(there[0]!.outcomes[0]!)).toEqual(canonical(direct[pick.index]!.outcome));
          if (direct[pick.index]!.outcome.places.length > 0)
            for (const pattern of direct[pick.index]!.standing) expect(there[0]!.because).toContain(pattern);
        }
      }
    },
    { picks: 4, numRuns: 2 * runs },
  );
  test("and often enough for that to count", () => expect(seen).toBeGreaterThan(5));
});

describe("its JSON form", () => {
  const validate = new Ajv2020({ strict: true, strictRequired: false, allErrors: true }).compile(
    JSON.parse(readFileSync(new URL("../../src/schema/table.json", import.meta.url), "utf8")) as object,
  );

  law(
    "is what its schema says",
    ({ answers, tables }) => {
      for (const table of tables) {
        const valid = validate(JSON.parse(JSON.stringify(tableJson(answers, table))));
        expect(valid ? [] : validate.errors).toEqual([]);
      }
    },
    { numRuns: Math.ceil(runs / 2) },
  );

  law(
    "says the same at every possible point, with nothing but itself",
    ({ model, points, answers, tables }) => {
      const table = tables[0]!;
      const json = tableJson(answers, table);
      for (const point of points) {
        const found = lookup(json, exampleOf(model, point));
        const { picks, because } = json.rows[table.rows.indexOf(rowAt(table, point)!)]!;
        const said = Object.entries(picks).map(([pick, outcome]) => [pick, { ...outcome, because }]);
        expect(found, pointInWords(model, point)).toMatchObject({ picks: Object.fromEntries(said), unknown: [] });
      }
    },
    { numRuns: Math.ceil(runs / 2) },
  );
});
