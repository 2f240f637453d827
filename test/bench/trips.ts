/** Logged trips by the million: `answer --csv` as a command, and the SQL view on two engines, whose answers are compared with it trip by trip. */
import { DuckDBInstance } from "@duckdb/node-api";
import { spawn } from "node:child_process";
import { createReadStream, createWriteStream, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { once } from "node:events";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parse as parseCsv } from "csv-parse";
import { answers } from "../../src/analysis/answers.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { tableSql, tripColumns } from "../../src/render/sql.js";
import { parse } from "../../src/syntax/parse.js";
import { openSqlite, type SqlValue } from "../render/sqlite.js";
import { dice } from "./books.js";

type Line = (label: string, ...values: string[]) => void;

const root = fileURLToPath(new URL("../..", import.meta.url));
const book = "rules/blades.lore";
const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/** A trip in the cells of `answer --csv`, and in the columns of the table of trips. */
interface Trip {
  readonly cells: readonly string[];
  readonly values: readonly SqlValue[];
}

export async function trips(line: Line): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-trips-"));
  try {
    const { model } = resolve(parse(readFileSync(join(root, book), "utf8"), join(root, book)), (path) => ({
      text: readFileSync(path, "utf8"),
    }));
    const found = answers(model, { steps: 400_000 });
    const made = tableSql(found);
    if ("problem" in made) throw new Error(made.problem);
    for (const count of [100_000, 1_000_000]) {
      await write(model, count, join(folder, "points.csv"), join(folder, "trips.csv"));
      const { seconds, peak } = await streamed(join(folder, "points.csv"), join(folder, "answers.csv"));
      line(
        `answer --csv, ${count.toLocaleString("en-US")} rows`,
        `${seconds.toFixed(1)} s`,
        `${Math.round(count / seconds).toLocaleString("en-US")} rows/s`,
        `${peak.toFixed(0)} MB at most`,
      );
    }
    const names = model.picks.filter(({ judgement }) => !judgement).flatMap(({ name }) => [`${name} status`, `${name} answer`]);
    const ask = `SELECT ${names.map((name) => `"${name}"`).join(", ")} FROM "answers" ORDER BY "trip id"`;
    const columns = tripColumns(model);
    const table = `CREATE TABLE "trips" ("trip id" INTEGER PRIMARY KEY, ${columns.map(({ name, type }) => `"${name}" ${type}`).join(", ")})`;

    const duck = await (await DuckDBInstance.create(":memory:")).connect();
    await duck.run(table);
    await duck.run(`COPY "trips" FROM '${join(folder, "trips.csv")}' (HEADER false)`);
    await duck.run(made.sql);
    let from = performance.now();
    const swift = (await duck.runAndReadAll(ask)).getRows() as SqlValue[][];
    line("the view on DuckDB, all rows fetched", `${((performance.now() - from) / 1000).toFixed(1)} s`);
    duck.closeSync();

    const sqlite = await openSqlite();
    sqlite.run(table);
    const put = sqlite.prepare(`INSERT INTO "trips" VALUES (${["", ...columns].map(() => "?").join(", ")})`);
    sqlite.run("BEGIN");
    for await (const cells of createReadStream(join(folder, "trips.csv")).pipe(parseCsv()) as AsyncIterable<string[]>)
      put.run(cells.map((cell) => (cell === "" ? null : cell)));
    sqlite.run("COMMIT");
    put.free();
    sqlite.run(made.sql);
    from = performance.now();
    const light: SqlValue[][] = [];
    const rows = sqlite.prepare(ask);
    while (rows.step()) light.push(rows.get());
    rows.free();
    line("the view on SQLite (WebAssembly)", `${((performance.now() - from) / 1000).toFixed(1)} s`);
    sqlite.close();

    let at = 0;
    let apart = 0;
    for await (const said of createReadStream(join(folder, "answers.csv")).pipe(parseCsv({ columns: true })) as AsyncIterable<
      Readonly<Record<string, string>>
    >) {
      const expected = names.map((name) =>
        said["error"] !== ""
          ? name.endsWith(" status")
            ? "refused"
            : ""
          : said[name.endsWith(" status") ? name : name.slice(0, -" answer".length)],
      );
      for (const row of [swift[at]!, light[at]!]) if (row.some((value, i) => (value ?? "") !== expected[i])) apart++;
      at++;
    }
    line("trips on which an engine and answer differ", `${apart} of ${at.toLocaleString("en-US")}`);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function write(model: Model, count: number, points: string, table: string): Promise<void> {
  const roll = dice(7);
  const [one, other] = [createWriteStream(points), createWriteStream(table)];
  one.write(`${model.conditions.map(({ name }) => name).join(",")}\n`);
  for (let i = 0; i < count;) {
    let [cells, columns] = ["", ""];
    for (const end = Math.min(count, i + 5_000); i < end; i++) {
      const trip = someTrip(model, roll);
      cells += `${trip.cells.join(",")}\n`;
      columns += `${[i, ...trip.values].join(",")}\n`;
    }
    await Promise.all(
      [
        [one, cells],
        [other, columns],
      ].map(async ([file, text]) => (file as typeof one).write(text as string) || once(file as typeof one, "drain")),
    );
  }
  await Promise.all([one, other].map(async (file) => (file.end(), once(file, "finish"))));
}

/** Each condition is known or not by the dice. */
function someTrip(model: Model, roll: (sides: number) => number): Trip {
  const unknown = roll(4);
  const cells: string[] = [];
  const values: SqlValue[] = [];
  for (const { domain } of model.conditions) {
    const known = roll(6) >= unknown;
    const take = (cell: string, ...columns: SqlValue[]): void => {
      cells.push(known ? cell : "");
      values.push(...columns.map((value) => (known ? value : null)));
    };
    switch (domain.kind) {
      case "scale": {
        const level = domain.levels[roll(domain.levels.length)]!;
        take(level, level);
        break;
      }
      case "set": {
        const has = domain.members.map(() => roll(2));
        take(domain.members.filter((_, i) => has[i] === 1).join(";") || "none", ...has);
        break;
      }
      case "measure": {
        // Readings between the steps as well, to a tenth.
        const [low, high] = [domain.low.valueOf(), domain.high.valueOf()];
        const reading = Math.round(10 * low + roll(Math.round(10 * (high - low)) + 1)) / 10;
        take(String(reading), reading);
        break;
      }
      case "days": {
        const [month, day] = [roll(12), 1 + roll(28)];
        take(`${months[month]!} ${day}`, `${String(month + 1).padStart(2, "0")}-${String(day).padStart(2, "0")}`);
        break;
      }
      case "times": {
        const time = [roll(24), roll(60)].map((part) => String(part).padStart(2, "0")).join(":");
        take(time, time);
      }
    }
  }
  return { cells, values };
}

/** The built command; the most memory it held, as Linux counts it. */
async function streamed(points: string, answersTo: string): Promise<{ readonly seconds: number; readonly peak: number }> {
  const start = performance.now();
  const child = spawn(
    process.execPath,
    [join(root, "dist/cli/waterlore.js"), "answer", join(root, book), "--csv", points, "--format", "csv"],
    { stdio: ["ignore", "pipe", "ignore"] },
  );
  child.stdout.pipe(createWriteStream(answersTo));
  let peak = 0;
  const watch = setInterval(() => {
    try {
      peak = Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, "utf8"))?.[1] ?? peak) || peak;
    } catch {
      // It has just ended, or this is no Linux.
    }
  }, 100);
  await once(child, "close");
  clearInterval(watch);
  return { seconds: (performance.now() - start) / 1000, peak: peak / 1024 };
}
