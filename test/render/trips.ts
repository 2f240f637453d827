/** Trips, the tables of the SQL form, in two engines that have nothing to do with each other, and what `answer` says of them. */
import { DuckDBInstance } from "@duckdb/node-api";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Answers } from "../../src/analysis/answers.js";
import { answer } from "../../src/answer/answer.js";
import { givenOf } from "../../src/answer/given.js";
import { sayList } from "../../src/messages/words.js";
import type { Model } from "../../src/model/model.js";
import { sayPosition } from "../../src/model/points.js";
import { readNumber } from "../../src/model/quantities.js";
import { run } from "../../src/model/span.js";
import { closedText } from "../../src/render/text.js";
import { optionTexts } from "../../src/model/texts.js";
import { tableSql, tripColumns, type SqlOptions } from "../../src/render/sql.js";
import { openSqlite, type Sqlite } from "./sqlite.js";

/** A value per column, by position; undefined: not known. */
export type Trip = readonly (number | undefined)[];
export type Cell = string | number | null;

/** Status and answer of every pick, or that there is none. */
export type Said = readonly (string | null)[];

export interface Engine {
  /** The trips in a new table `trips`, and no view of them. */
  load(model: Model, trips: readonly Trip[]): Promise<void>;
  run(sql: string): Promise<void>;
  /** What the view `answers` says, trip by trip. */
  said(model: Model, judgements?: boolean): Promise<Said[]>;
  close(): void;
}

/** SQLite (sql.js), and the database itself for what only it is asked. */
export async function sqliteEngine(): Promise<Engine & { readonly database: Sqlite }> {
  const database = await openSqlite();
  return {
    database,
    async load(model, trips) {
      database.run(`DROP VIEW IF EXISTS "answers"; DROP TABLE IF EXISTS "trips"; ${tableOf(model)}`);
      const put = database.prepare(`INSERT INTO "trips" VALUES (${["id", ...tripColumns(model)].map(() => "?").join(", ")})`);
      database.run("BEGIN");
      trips.forEach((trip, i) => put.run([i, ...cellsOf(model, trip)]));
      database.run("COMMIT");
      put.free();
    },
    async run(sql) {
      database.run(sql);
    },
    async said(model, judgements = true) {
      const all: Said[] = [];
      const ask = database.prepare(question(model, judgements));
      while (ask.step()) all.push(ask.get() as (string | null)[]);
      ask.free();
      return all;
    },
    close: () => database.close(),
  };
}

/** DuckDB, which takes the trips from a file. */
export async function duckEngine(): Promise<Engine> {
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  const folder = mkdtempSync(join(tmpdir(), "waterlore-sql-"));
  const run = async (sql: string): Promise<void> => void (await connection.run(sql));
  return {
    async load(model, trips) {
      await run(`DROP VIEW IF EXISTS "answers"`);
      await run(`DROP TABLE IF EXISTS "trips"`);
      await run(tableOf(model));
      const file = join(folder, "trips.csv");
      writeFileSync(file, trips.map((trip, i) => `${[i, ...cellsOf(model, trip)].join(",")}\n`).join(""));
      await run(`COPY "trips" FROM '${file}' (HEADER false)`);
    },
    run,
    said: async (model, judgements = true) => (await connection.runAndReadAll(question(model, judgements))).getRows() as Said[],
    close() {
      connection.closeSync();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function sqlOf(found: Answers, options: SqlOptions = {}): string {
  const made = tableSql(found, options);
  if ("problem" in made) throw new Error(made.problem);
  return made.sql;
}

/** What `answer` says, set members known and unknown one by one. */
export function answerOf(found: Answers, trip: Trip, judgements = true): Said {
  const { model } = found;
  const box = new Map(trip.flatMap((position, axis) => (position === undefined ? [] : [[axis, run(position, position)] as const])));
  const given = answer(model, givenOf(model, box), () => found);
  const picks = model.picks.filter(({ judgement }) => judgements || !judgement);
  const shuts = model.closed.length > 0;
  if ("problem" in given) return [...(shuts ? [null] : []), ...picks.flatMap(() => ["refused", null])];
  const closed = given.closed.find(({ sure }) => sure) ?? given.closed[0];
  return [
    ...(shuts ? [closed ? closedText(model, closed) : null] : []),
    ...picks.flatMap((pick) => {
      const { outcome } = given.picks[pick.index]!;
      return [outcome?.status ?? "depends", sayList(optionTexts(pick, outcome?.places ?? [])) || null];
    }),
  ];
}

const cells = new WeakMap<Model, Map<string, Cell>>();

/** A value that lies at a position; null if no decimal is exactly there. */
export function cellAt(model: Model, axis: number, position: number): Cell {
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

function cellsOf(model: Model, trip: Trip): readonly Cell[] {
  return trip.map((position, axis) => (position === undefined ? null : cellAt(model, axis, position)));
}

function tableOf(model: Model): string {
  const columns = tripColumns(model).map(({ name, type }) => `, "${name}" ${type}`);
  return `CREATE TABLE "trips" ("trip id" INTEGER PRIMARY KEY${columns.join("")})`;
}

function question(model: Model, judgements: boolean): string {
  const columns = model.picks
    .filter(({ judgement }) => judgements || !judgement)
    .flatMap(({ name }) => [`"${name} status"`, `"${name} answer"`]);
  if (model.closed.length > 0) columns.unshift('"closed"');
  return `SELECT ${columns.join(", ")} FROM "answers" ORDER BY "trip id"`;
}
