/** `waterlore stock`: what a shop can sell of what its book recommends, weighed by a log of days if there is one. */
import { commandRefusals } from "../../../messages/cli.js";
import { stockCsv, stockJson } from "../../../stock/json.js";
import { stockMarkdown, stockText } from "../../../stock/sheet.js";
import { stockReport, type StockReport } from "../../../stock/stock.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { STDIN } from "../../node/read.js";
import { openLog, openStock } from "../../node/rows.js";
import { nameOf } from "../../node/source.js";
import { print } from "../../node/streams.js";
import { harmless, jsonText, terminalOf } from "../../node/terminal.js";
import { openModel, type BookOptions } from "../book.js";

export interface StockCommand extends BookOptions {
  readonly days?: string;
  readonly format: "text" | "markdown" | "csv" | "json";
}

export async function stockCommand(path: string, list: string, options: StockCommand): Promise<ExitCode> {
  if ([path, list, options.days].filter((file) => file === STDIN).length > 1) throw new CannotRun(commandRefusals.stdinTwice);
  const book = await openModel(path, options);
  if (book.model.picks.every(({ judgement }) => judgement)) throw new CannotRun(commandRefusals.noPicks);
  const items = await openStock(book.model, list);
  const answers = book.answersOf();
  const log = options.days === undefined ? undefined : await openLog(answers, options.days, book.steps);
  const report = stockReport(answers, items.value, {
    ...(log && { log: log.value }),
    ...(book.steps !== undefined && { steps: book.steps }),
  });
  print(reportText(report, list, options));
  return items.complete && (log?.complete ?? true) ? book.exit : 2;
}

function reportText(report: StockReport, list: string, { format, days }: StockCommand): string {
  switch (format) {
    case "text":
      return harmless(stockText(report, { width: terminalOf(process.stdout).width }));
    case "markdown":
      return harmless(stockMarkdown(report));
    case "csv":
      return harmless(stockCsv(report));
    case "json":
      return jsonText(stockJson(report, { stock: nameOf(list), ...(days !== undefined && { log: nameOf(days) }) }));
  }
}
