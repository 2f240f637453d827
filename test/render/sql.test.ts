/**
 * The SQL form of a table, run by two engines that have nothing to do with each other, SQLite (sql.js) and DuckDB: with any values
 * unknown it says what `answer` says, and what `answer` refuses is refused.
 */
import { DuckDBInstance, type DuckDBConnection } from "@duckdb/node-api";
import * as fc from "fast-check";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import type { Model } from "../../src/model/model.js";
import { sayPosition } from "../../src/model/points.js";
import { readNumber } from "../../src/model/quantities.js";
import { run } from "../../src/model/span.js";
import { sayList } from "../../src/messages/words.js";
import { givenOf } from "../../src/answer/given.js";
import { answer } from "../../src/answer/answer.js";
import { tableSql, tripColumns, type SqlOptions } from "../../src/render/sql.js";
import { dice } from "../bench/books.js";
import { books } from "../law/books.js";
import { read } from "../law/reading.js";
import { readPond } from "../table/pond.js";
import { openSqlite, type Sqlite } from "./sqlite.js";
import { optionTexts } from "../../src/model/texts.js";

const runs = Number(process.env["LAW_RUNS"] ?? 40);

/** A value per column, by position; undefined: not known. */
type Trip = readonly (number | undefined)[];
type Cell = string | number | null;

/** Status and answer of every pick, or that there is none. */
type Said = readonly (string | null)[];

let sqlite: Sqlite;
let duck: DuckDBConnection;
let folder: string;

beforeAll(async () => {
  sqlite = await openSqlite();
  duck = await (await DuckDBInstance.create(":memory:")).connect();
  folder = mkdtempSync(join(tmpdir(), "waterlore-sql-"));
});
afterAll(() => {
  sqlite.close();
  duck.closeSync();
  rmSync(folder, { recursive: true, force: true });
});

describe("the view says what answer says, whatever is unknown", () => {
  test("on random books", { timeout: 240_000 }, async () => {
    const some: { readonly model: Model; readonly found: Answers; readonly trips: readonly Trip[]; readonly sql: string }[] = [];
    fc.assert(
      fc.property(books({ points: 300 }), fc.nat(), (texts, seed) => {
        const { model } = read(texts.texts, texts.root);
        const found = answers(model, { steps: 400_000 });
        if (!found.anythingPossible) return;
        const roll = dice(seed);
        const trips = Array.from({ length: 60 }, () => someTrip(model, roll));
        some.push({ model, found, trips, sql: sqlOf(found, { picks: model.picks.map(({ index }) => index) }) });
      }),
      { numRuns: runs },
    );
    expect(some.length).toBeGreaterThan(runs / 2);
    const statuses = new Set<string | null>();
    for (const { model, found, trips, sql } of some) {
      const expected = trips.map((trip) => answerOf(found, trip));
      for (const said of expected) said.forEach((word) => statuses.add(word));
      load(model, trips);
      sqlite.run(sql);
      expect(fromSqlite(model, "answers"), sql).toEqual(expected);
      await loadDuck(model, trips);
      await duck.run(sql);
      expect(await fromDuck(model, "answers"), sql).toEqual(expected);
    }
    // The law would be empty of meaning if nothing of this came up.
    for (const status of [
      "decided",
      "depends",
      "refused",
      "toss-up",
      "fallback",
      "not applicable",
      "gap",
      "conflict",
      "waiting",
      "no advice",
    ])
      expect(statuses).toContain(status);
  });

  test("on a million trips: both engines the same, and ten thousand of them as answer", { timeout: 240_000 }, async () => {
    const path = "rules/blades.lore";
    const text = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), "utf8");
    const { model } = read(
      {
        [path]: text(path),
        "rules/common/conditions.lore": text("rules/common/conditions.lore"),
        "rules/common/cautions.lore": text("rules/common/cautions.lore"),
      },
      path,
    );
    const found = answers(model, { steps: 400_000 });
    const roll = dice(11);
    const trips = Array.from({ length: 1_000_000 }, () => someTrip(model, roll));
    const sql = sqlOf(found);
    load(model, trips);
    sqlite.run(sql);
    const light = fromSqlite(model, "answers", false);
    await loadDuck(model, trips);
    await duck.run(sql);
    const swift = await fromDuck(model, "answers", false);
    expect(light.length).toBe(trips.length);
    expect(swift.length).toBe(trips.length);
    expect(light.findIndex((said, i) => said.join("|") !== swift[i]!.join("|"))).toBe(-1);
    for (let at = 0; at < trips.length; at += 100) expect(light[at], JSON.stringify(trips[at])).toEqual(answerOf(found, trips[at]!, false));
    expect(new Set(light.map(([status]) => status)).size).toBeGreaterThan(1);
  });
});

describe("what a trip cannot be", () => {
  test("is refused, with the reason", () => {
    const { model, answers: found } = readPond();
    load(model, []);
    const columns = tripColumns(model).map(({ name }) => `"${name}"`);
    const put = (id: number, values: Readonly<Record<string, Cell>>): void =>
      sqlite.run(`INSERT INTO "trips" ("trip id", ${columns.join(", ")}) VALUES (?, ${columns.map(() => "?").join(", ")})`, [
        id,
        ...tripColumns(model).map(({ name }) => values[name] ?? null),
      ]);
    put(1, { clarity: "mudy" });
    put(2, { "water-temp": 95.2 });
    put(3, { "cover has grass": 2 });
    put(4, { day: "2027-04-15" });
    put(5, { day: "01-15", "water-temp": 80 });
    put(6, { day: "02-29", "water-temp": 69.4 });
    sqlite.run(sqlOf(found));
    const rows = sqlite.exec(`SELECT "refused", "color status", "color answer" FROM "answers" ORDER BY "trip id"`)[0]!.values;
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
    load(model, trips);
    sqlite.run(sqlOf(found));
    expect(fromSqlite(model, "answers")).toEqual(expected);
    await loadDuck(model, trips);
    await duck.run(sqlOf(found));
    expect(await fromDuck(model, "answers")).toEqual(expected);
    expect(expected[0]).toEqual(["decided", "o'); DROP TABLE trips; --"]);
    // Outside comments there is no backslash, which some engines read as an escape.
    expect(sqlOf(found).replace(/^--.*$/gm, "")).not.toContain("\\");
  });

  test("an option that engines read differently is refused", () => {
    const { model } = read({ "x.lore": hostile("back\\slash") }, "x.lore");
    const made = tableSql(answers(model, { steps: 400_000 }));
    expect("problem" in made && made.problem).toContain("back\\slash");
  });

  test("names of the table and the view are quoted", () => {
    const { model, answers: found } = readPond();
    const sql = sqlOf(found, { table: `t"; DROP`, view: `v"; DROP`, picks: [0] });
    load(model, []);
    sqlite.run(`DROP TABLE IF EXISTS "t""; DROP"`);
    sqlite.run(`ALTER TABLE "trips" RENAME TO "t""; DROP"`);
    sqlite.run(sql);
    expect(sqlite.exec(`SELECT * FROM "v""; DROP"`)).toEqual([]);
    sqlite.run(`DROP VIEW "v""; DROP"`);
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

function sqlOf(found: Answers, options: SqlOptions = {}): string {
  const made = tableSql(found, options);
  if ("problem" in made) throw new Error(made.problem);
  return made.sql;
}

function someTrip(model: Model, roll: (size: number) => number): Trip {
  const unknown = roll(4);
  return model.axes.map(({ index, size }) => {
    const position = roll(size);
    return roll(4) < unknown || cellAt(model, index, position) === null ? undefined : position;
  });
}

/** What `answer` says, set members known and unknown one by one. */
function answerOf(found: Answers, trip: Trip, judgements = true): Said {
  const { model } = found;
  const box = new Map(trip.flatMap((position, axis) => (position === undefined ? [] : [[axis, run(position, position)] as const])));
  const given = answer(model, givenOf(model, box), () => found);
  const picks = model.picks.filter(({ judgement }) => judgements || !judgement);
  if ("problem" in given) return picks.flatMap(() => ["refused", null]);
  return picks.flatMap((pick) => {
    const { outcome } = given.picks[pick.index]!;
    return [outcome?.status ?? "depends", sayList(optionTexts(pick, outcome?.places ?? [])) || null];
  });
}

const cells = new WeakMap<Model, Map<string, Cell>>();

/** A value that lies at a position; null if no decimal is exactly there. */
function cellAt(model: Model, axis: number, position: number): Cell {
  const known = cells.get(model) ?? new Map<string, Cell>();
  cells.set(model, known);
  const key = `${axis}:${position}`;
  if (!known.has(key)) known.set(key, valueAt(model, axis, position));
  return known.get(key)!;
}

function valueAt(model: Model, axis: number, position: number): Cell {
  const { domain } = model.conditions[model.axes[axis]!.condition]!;
  if (domain.kind === "set") return position;
  const said = sayPosition(model, axis, position);
  if (domain.kind === "days") return new Date(`${said} 2028 UTC`).toISOString().slice(5, 10);
  if (domain.kind !== "measure") return said;
  const exact = readNumber(/^-?(?:\d+ )?[\d./]+/.exec(said)![0])!.value;
  // A reading in steps is as good a little beside its step.
  const beside =
    domain.step === undefined || position === 0 || position === model.axes[axis]!.size - 1
      ? exact
      : exact.add(domain.step.div(position % 2 === 0 ? 4 : -2));
  return 10_000n % beside.d === 0n ? beside.valueOf() : 10_000n % exact.d === 0n ? exact.valueOf() : null;
}

function load(model: Model, trips: readonly Trip[]): void {
  const columns = tripColumns(model);
  sqlite.run(
    `DROP VIEW IF EXISTS "answers"; DROP TABLE IF EXISTS "trips"; CREATE TABLE "trips" ("trip id" INTEGER PRIMARY KEY, ${columns.map(({ name, type }) => `"${name}" ${type}`).join(", ")})`,
  );
  const put = sqlite.prepare(`INSERT INTO "trips" VALUES (${[TRIP, ...columns].map(() => "?").join(", ")})`);
  sqlite.run("BEGIN");
  trips.forEach((trip, i) =>
    put.run([i, ...trip.map((position, axis) => (position === undefined ? null : cellAt(model, axis, position)))]),
  );
  sqlite.run("COMMIT");
  put.free();
}

async function loadDuck(model: Model, trips: readonly Trip[]): Promise<void> {
  const columns = tripColumns(model);
  await duck.run(`DROP VIEW IF EXISTS "answers"`);
  await duck.run(`DROP TABLE IF EXISTS "trips"`);
  await duck.run(`CREATE TABLE "trips" ("trip id" INTEGER, ${columns.map(({ name, type }) => `"${name}" ${type}`).join(", ")})`);
  const file = join(folder, "trips.csv");
  writeFileSync(
    file,
    trips
      .map(
        (trip, i) => `${[i, ...trip.map((position, axis) => (position === undefined ? "" : cellAt(model, axis, position)))].join(",")}\n`,
      )
      .join(""),
  );
  await duck.run(`COPY "trips" FROM '${file}' (HEADER false)`);
}

const TRIP = "trip id";

function resultColumns(model: Model, judgements: boolean): string {
  return model.picks
    .filter(({ judgement }) => judgements || !judgement)
    .flatMap(({ name }) => [`"${name} status"`, `"${name} answer"`])
    .join(", ");
}

function fromSqlite(model: Model, view: string, judgements = true): Said[] {
  const all: Said[] = [];
  const ask = sqlite.prepare(`SELECT ${resultColumns(model, judgements)} FROM "${view}" ORDER BY "trip id"`);
  while (ask.step()) all.push(ask.get() as (string | null)[]);
  ask.free();
  return all;
}

async function fromDuck(model: Model, view: string, judgements = true): Promise<Said[]> {
  return (await duck.runAndReadAll(`SELECT ${resultColumns(model, judgements)} FROM "${view}" ORDER BY "trip id"`)).getRows() as (
    string | null
  )[][];
}
