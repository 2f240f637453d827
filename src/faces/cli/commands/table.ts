/** `waterlore table`: the table that says the same as all the rules, as charts to read or as one table for other programs. */
import { commandRefusals } from "../../../messages/cli.js";
import type { Model } from "../../../model/model.js";
import { chartTables } from "../../../render/chart.js";
import { tableCsv } from "../../../render/csv.js";
import { tableJson } from "../../../render/json.js";
import { chartsMarkdown } from "../../../render/charts-markdown.js";
import { tableSql } from "../../../render/sql.js";
import { chartsText } from "../../../render/text.js";
import { nearest } from "../../../suggest.js";
import { compile } from "../../../table/compile.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { print } from "../../node/streams.js";
import { harmless, jsonText, terminalOf } from "../../node/terminal.js";
import { openModel, type BookOptions } from "../book.js";

export interface TableOptions extends BookOptions {
  readonly format: "text" | "json" | "markdown" | "csv" | "sql";
  readonly pick?: readonly string[];
}

export async function tableCommand(path: string, options: TableOptions): Promise<ExitCode> {
  const book = await openModel(path, options);
  const { model, steps } = book;
  const picks = options.pick && picksNamed(model, options.pick);
  if (model.picks.every(({ judgement }) => judgement) && !picks) throw new CannotRun(commandRefusals.noPicks);
  const answers = book.answersOf();
  switch (options.format) {
    case "text":
      print(
        harmless(
          chartsText(answers, had(chartTables(answers, picks, { steps })).tables, {
            width: terminalOf(process.stdout).width,
            whole: !process.stdout.isTTY,
          }),
        ),
      );
      break;
    case "markdown":
      print(harmless(chartsMarkdown(answers, had(chartTables(answers, picks, { steps })).tables)));
      break;
    case "json":
      print(jsonText(tableJson(answers, had(compile(answers, { picks, steps })).table)));
      break;
    case "sql":
      print(harmless(had(tableSql(answers, { picks, steps })).sql));
      break;
    case "csv":
      print(harmless(tableCsv(had(compile(answers, { picks, steps })).table)));
  }
  return book.exit;
}

function picksNamed(model: Model, names: readonly string[]): readonly number[] {
  const known = model.picks.map(({ name }) => name);
  return [...new Set(names)].map((name) => {
    const index = known.indexOf(name);
    if (index < 0) throw new CannotRun(commandRefusals.wrongPick(name, known, nearest(name, known)));
    return index;
  });
}

/** What was made, or the end of the command with the reason why there is none. */
function had<T extends object>(made: T | { readonly problem: string }): T {
  if ("problem" in made) throw new CannotRun(made.problem);
  return made;
}
