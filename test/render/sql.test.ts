/** The SQL form of a table: what it refuses, and that nothing in a book gets out of its quotes. That it says what `answer` says: `sql.law.test.ts`. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { tableSql, tripColumns } from "../../src/render/sql.js";
import { read } from "../law/reading.js";
import { readPond } from "../table/pond.js";
import { answerOf, duckEngine, sqliteEngine, sqlOf, type Cell, type Engine, type Trip } from "./trips.js";

let sqlite: Awaited<ReturnType<typeof sqliteEngine>>;
let duck: Engine;
beforeAll(async () => {
  sqlite = await sqliteEngine();
  duck = await duckEngine();
});
afterAll(() => [sqlite, duck].forEach((engine) => engine.close()));

describe("what a trip cannot be", () => {
  test("is refused, with the reason", async () => {
    const { model, answers: found } = readPond();
    await sqlite.load(model, []);
    const columns = tripColumns(model).map(({ name }) => `"${name}"`);
    const put = (id: number, values: Readonly<Record<string, Cell>>): void =>
      sqlite.database.run(`INSERT INTO "trips" ("trip id", ${columns.join(", ")}) VALUES (?, ${columns.map(() => "?").join(", ")})`, [
        id,
        ...tripColumns(model).map(({ name }) => values[name] ?? null),
      ]);
    put(1, { clarity: "mudy" });
    put(2, { "water-temp": 95.2 });
    put(3, { "cover has grass": 2 });
    put(4, { day: "2027-04-15" });
    put(5, { day: "01-15", "water-temp": 80 });
    put(6, { day: "02-29", "water-temp": 69.4 });
    sqlite.database.run(sqlOf(found));
    const rows = sqlite.database.exec(`SELECT "refused", "color status", "color answer" FROM "answers" ORDER BY "trip id"`)[0]!.values;
    expect(rows.map(([refused]) => refused)).toEqual([
      "clarity takes clear, stained or muddy.",
      "water-temp takes a number, 33 °F to 95 °F.",
      "cover has grass takes 1 where there is grass, 0 where there is none.",
      "day takes month and day, such as 04-15 (of a date its last five signs).",
      "The book says that this does not occur: never logged here.",
      null,
    ]);
    expect(rows.map(([, status]) => status)).toEqual(["refused", "refused", "refused", "refused", "refused", "depends"]);
  });
});

describe("what stands in a book cannot get out of its quotes", () => {
  const hostile = (option: string): string => `book "x'); DROP TABLE trips; --"
  edition "*/ ; DROP TABLE trips; --"
condition clarity "';DROP TABLE trips;--": clear, muddy
condition sky: bright, dark
impossible when clarity is clear and sky is dark because "never'; DROP TABLE trips; -- \\"
pick blade "\`]; DROP TABLE trips": "${option}", leaf
pattern "a '\\'' b"
  go with blade "${option}"
  when clarity is muddy
fall back on blade leaf
`;

  test("not from titles, labels, reasons or options", async () => {
    const { model, faults } = read({ "x.lore": hostile("o'); DROP TABLE trips; --") }, "x.lore");
    expect(faults).toEqual([]);
    const found = answers(model, { steps: 400_000 });
    const trips: readonly Trip[] = [
      [1, 0],
      [0, 1],
      [undefined, 1],
      [0, undefined],
      [undefined, undefined],
    ];
    const expected = trips.map((trip) => answerOf(found, trip));
    for (const engine of [sqlite, duck]) {
      await engine.load(model, trips);
      await engine.run(sqlOf(found));
      expect(await engine.said(model)).toEqual(expected);
    }
    expect(expected[0]).toEqual(["decided", "o'); DROP TABLE trips; --"]);
    // Outside comments there is no backslash, which some engines read as an escape.
    expect(sqlOf(found).replace(/^--.*$/gm, "")).not.toContain("\\");
  });

  test("an option that engines read differently is refused", () => {
    const { model } = read({ "x.lore": hostile("back\\slash") }, "x.lore");
    const made = tableSql(answers(model, { steps: 400_000 }));
    expect("problem" in made && made.problem).toContain("back\\slash");
  });

  test("names of the table and the view are quoted", async () => {
    const { model, answers: found } = readPond();
    const sql = sqlOf(found, { table: `t"; DROP`, view: `v"; DROP`, picks: [0] });
    await sqlite.load(model, []);
    sqlite.database.run(`DROP TABLE IF EXISTS "t""; DROP"`);
    sqlite.database.run(`ALTER TABLE "trips" RENAME TO "t""; DROP"`);
    sqlite.database.run(sql);
    expect(sqlite.database.exec(`SELECT * FROM "v""; DROP"`)).toEqual([]);
    sqlite.database.run(`DROP VIEW "v""; DROP"`);
  });
});

test("uses no function, and nothing that is not standard", () => {
  const { answers: found } = readPond();
  const bare = sqlOf(found)
    .replace(/^--.*$/gm, "")
    .replace(/'(?:[^']|'')*'|"(?:[^"]|"")*"/g, "x");
  expect([...new Set(bare.match(/[A-Za-z_]+/g))].filter((word) => word !== "x").sort()).toEqual([
    "AND",
    "AS",
    "BETWEEN",
    "CASE",
    "CREATE",
    "ELSE",
    "END",
    "FROM",
    "IN",
    "IS",
    "NOT",
    "NULL",
    "OR",
    "SELECT",
    "THEN",
    "VIEW",
    "WHEN",
  ]);
});
