/**
 * A book's tables as files for other programs and for people who take them further.
 *
 *     table.json, table.csv        all picks in one table, for a book whose picks together need no more rows than a file should have
 *     pick-blade.json, .csv        each pick in a table of its own, always
 *     tables.md                    a chart for each pick, to read
 *
 * Every JSON file is of the shape `waterlore-table` (`schema/table.json`), so the lookup module answers from one of the first kind or
 * from any of the second together. Paths are from the folder of the book's data. A pick whose table outgrows the budget has no file; then
 * there is no `tables.md` either, rather than one that leaves something out without saying so.
 */
import type { Answers } from "../analysis/answers.js";
import { chartedFor } from "../answer/closed.js";
import type { Model } from "../model/model.js";
import { compile, type Table } from "../table/compile.js";
import { tableCsv } from "../render/csv.js";
import { tableJson } from "../render/json.js";
import { chartsMarkdown } from "../render/charts-markdown.js";

export interface DataFile {
  /** From the folder of the book's data, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

/** More rows than this in one table are several files rather than one. */
const MOST_TOGETHER = 1_000;
/** What is not that small soon is not tried for long. */
const STEPS_TOGETHER = 50_000;

/** The files in a fixed order, each ending in a line break; none for a book that recommends nothing. */
export function dataFiles(model: Model, answers: Answers): readonly DataFile[] {
  const picks = model.picks.filter(({ judgement }) => !judgement);
  if (picks.length === 0) return [];
  const files = (name: string, table: Table): readonly DataFile[] => [
    { path: `${name}.json`, text: `${JSON.stringify(tableJson(answers, table))}\n` },
    { path: `${name}.csv`, text: tableCsv(table) },
  ];
  const whole = compile(answers, { rows: MOST_TOGETHER, steps: STEPS_TOGETHER });
  const each = picks.map((pick) => ({ pick, ...compile(answers, { picks: [pick.index] }) }));
  const tables = picks.flatMap((pick, i) => {
    // To people closed points are what never occurs.
    const made = model.closed.length === 0 ? each[i]! : compile(chartedFor(answers, pick.index), { picks: [pick.index] });
    return "table" in made ? [made.table] : [];
  });
  return [
    ...("table" in whole ? files("table", whole.table) : []),
    ...each.flatMap((one) => ("table" in one ? files(`pick-${one.pick.name}`, one.table) : [])),
    ...(tables.length === picks.length ? [{ path: "tables.md", text: chartsMarkdown(answers, tables) }] : []),
  ];
}
