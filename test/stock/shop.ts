/** Reads a book, a stock list and a log given as texts, for the tests: plain CSV without quotes. */
import { answers, type Answers } from "../../src/analysis/answers.js";
import { budget, type Budget } from "../../src/analysis/budget.js";
import { logColumn, readLog, type Log, type LogRow, type RowProblem } from "../../src/stock/log.js";
import { readStock, stockColumn, type Stock } from "../../src/stock/rows.js";
import type { Model } from "../../src/model/model.js";
import { faultsInWords, read } from "../law/reading.js";

export const fresh = (): Budget => budget(400_000);

export function answersOf(text: string): Answers {
  const texts = { "book.lore": text };
  const { model, faults } = read(texts, "book.lore");
  if (faults.length > 0) throw new Error(faultsInWords(texts, faults).join("\n"));
  return answers(model, { steps: 400_000 });
}

/** Rows of plain CSV: cells by column, the first line names the columns. */
function rowsOf(
  csv: string,
  nameOf: (heading: string) => { readonly name: string } | { readonly problem: string },
): { readonly columns: readonly string[]; readonly rows: readonly LogRow[] } {
  const [head, ...lines] = csv.trim().split("\n");
  const columns = head!.split(",").map((heading) => {
    const column = nameOf(heading);
    if ("problem" in column) throw new Error(column.problem);
    return column.name;
  });
  return {
    columns,
    rows: lines.map((line, i) => ({ row: i + 2, cells: columns.map((name, at) => [name, line.split(",")[at] ?? ""] as const) })),
  };
}

export function stockOf(model: Model, csv: string): { readonly stock: Stock; readonly problems: readonly RowProblem[] } {
  const { columns, rows } = rowsOf(csv, (heading) => stockColumn(model, heading));
  return readStock(model, columns, rows);
}

export function logOf(answers: Answers, csv: string): { readonly log: Log; readonly problems: readonly RowProblem[] } {
  const { rows } = rowsOf(csv, (heading) => logColumn(answers.model, heading));
  return readLog(answers, rows, fresh);
}
