/** Rows of a CSV file that a schema describes: the stock of a shop, a log of days. */
import type { ErrorObject } from "ajv";
import { STEPS } from "../../analysis/analyse.js";
import type { Answers } from "../../analysis/answers.js";
import { budget } from "../../analysis/budget.js";
import { commandNotes, commandRefusals } from "../../messages/cli.js";
import { logWords, stockWords } from "../../messages/stock.js";
import type { Model } from "../../model/model.js";
import { logColumn, readLog, type Log, type LogRow, type RowProblem } from "../../stock/log.js";
import { missingColumn, readStock, stockColumn, type Stock } from "../../stock/rows.js";
import { readPoints } from "./csv.js";
import { CannotRun } from "./exit.js";
import { namesOf } from "../files/json-places.js";
import { largestFile, readPieces } from "./read.js";
import { validatorOf } from "./schemas.js";
import { nameOf } from "./source.js";
import { note } from "./streams.js";

/** What could be read of a file; `complete` is false where a row was left out, and has been said. */
export interface ReadRows<T> {
  readonly value: T;
  readonly complete: boolean;
}

export async function openStock(model: Model, path: string): Promise<ReadRows<Stock>> {
  const shown = nameOf(path);
  const { columns, rows, problems } = await rowsOf(path, "stock-row", (heading) => stockColumn(model, heading));
  const missing = missingColumn(columns);
  if (missing !== undefined) throw new CannotRun(stockWords.inFile(shown, missing));
  const { stock, problems: more } = readStock(model, columns, rows);
  return { value: stock, complete: report(shown, [...problems, ...more]) };
}

export async function openLog(answers: Answers, path: string, steps = STEPS): Promise<ReadRows<Log>> {
  const shown = nameOf(path);
  const { rows, problems } = await rowsOf(path, "log-row", (heading) => logColumn(answers.model, heading));
  const { log, problems: more } = readLog(answers, rows, () => budget(steps));
  const complete = report(shown, [...problems, ...more]);
  if (log.days.every(({ trips }) => trips.n === 0n)) throw new CannotRun(logWords.noDays(shown));
  return { value: log, complete };
}

interface Rows {
  readonly columns: readonly string[];
  /** Rows that fit the schema. */
  readonly rows: readonly LogRow[];
  readonly problems: readonly RowProblem[];
}

/** Throws `CannotRun` where the first row names a column that there is not. */
async function rowsOf(
  path: string,
  schema: string,
  columnOf: (heading: string) => { readonly name: string } | { readonly problem: string },
): Promise<Rows> {
  const shown = nameOf(path);
  const fits = await validatorOf<Record<string, string>>(schema);
  const columns: string[] = [];
  const rows: LogRow[] = [];
  const problems: RowProblem[] = [];
  let begun = false;
  const pieces = readPieces(path, (problem) => new CannotRun(commandRefusals.cannotRead(shown, problem)), largestFile);
  const nonBlank = async function* (): AsyncGenerator<string> {
    for await (const piece of pieces) {
      begun ||= piece.trim() !== "";
      yield piece;
    }
    if (!begun) throw new CannotRun(stockWords.emptyFile(shown));
  };
  const points = readPoints(shown, nonBlank(), (heading) => {
    const column = columnOf(heading);
    if ("problem" in column) throw new CannotRun(stockWords.inFile(shown, column.problem));
    columns.push(column.name);
    return column.name;
  });
  for await (const { row, entries, problem } of points) {
    if (problem !== undefined) problems.push({ row, problem: stockWords.tooManyCells });
    else {
      const wrong = fits(Object.fromEntries(entries)) ? [] : (fits.errors ?? []);
      // What the core has better words for is left to it.
      const long = wrong.filter(({ keyword }) => keyword === "maxLength").map((error) => tooLong(row, error));
      if (long.length > 0) problems.push(...long);
      else rows.push({ row, cells: entries });
    }
  }
  return { columns, rows, problems };
}

function tooLong(row: number, { instancePath, params }: ErrorObject): RowProblem {
  const [column] = namesOf(instancePath);
  return { row, column, problem: stockWords.tooLong(Number(params["limit"])) };
}

/** Says what is wrong, each row and column by name; true where nothing is. */
function report(shown: string, problems: readonly RowProblem[]): boolean {
  const sorted = [...problems].sort((a, b) => a.row - b.row);
  for (const { row, column, problem } of sorted)
    note(column === undefined ? commandNotes.row(row, problem) : commandNotes.cell(row, column, problem));
  if (sorted.length > 0) note(stockWords.rowsLeftOut(shown, [...new Set(sorted.map(({ row }) => row))]));
  return sorted.length === 0;
}
