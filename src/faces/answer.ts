/** `waterlore answer`: what to tie on, for one point or for every row of a file of points. */
import { notes, refusals } from "../messages/cli.js";
import type { Model } from "../model/model.js";
import { answersCsv } from "../table/csv.js";
import { conditionNamed, readGiven, type Given } from "../table/given.js";
import { answersJson, type Refused } from "../table/json.js";
import { answer as answerGiven, type Answered } from "../table/partial.js";
import { answerText, cautionsText } from "../table/text.js";
import { openModel, type BookOptions, type OpenBook } from "./book.js";
import { CannotRun, note, print, type ExitCode } from "./command.js";
import { readStdin, readText, STDIN, tidyPath } from "./files.js";
import { entriesOf, readPoints, type Entry } from "./given.js";
import { harmless, jsonText, terminalOf, wrap } from "./terminal.js";

export interface AnswerOptions extends BookOptions {
  readonly csv?: string;
  readonly format: "text" | "json" | "csv";
}

export async function answer(path: string, values: readonly string[], options: AnswerOptions): Promise<ExitCode> {
  if (options.csv === undefined && options.format === "csv") throw new CannotRun(refusals.csvNeedsCsv);
  if (options.csv !== undefined && values.length > 0) throw new CannotRun(refusals.valuesAndCsv);
  if (options.csv === STDIN && path === STDIN) throw new CannotRun(refusals.stdinTwice);
  const book = await openModel(path, options);
  if (options.csv !== undefined) return answerAll(book, options.csv, options.format);
  const answered = answerOrStop(book, givenOrStop(book, entriesOf(values)));
  print(options.format === "json" ? json(book.model, [answered]) : text(book.model, answered));
  return book.exit;
}

/** What the words say, or the end of the command with every word that is wrong. */
export function givenOrStop({ model, day, dayFrom }: OpenBook, entries: readonly Entry[]): Given {
  const read = readGiven(model, entries, day, dayFrom);
  if ("problems" in read) throw new CannotRun(read.problems.map(({ problem }) => problem).join("\n"));
  return read.given;
}

export function answerOrStop({ model, answersOf, steps }: OpenBook, given: Given): Answered {
  const answered = answerGiven(model, given, answersOf, { steps });
  if ("problem" in answered) throw new CannotRun(answered.problem);
  return answered;
}

function answerAll({ model, answersOf, steps, day, dayFrom, exit }: OpenBook, csv: string, format: AnswerOptions["format"]): ExitCode {
  const shown = csv === STDIN ? notes.stdin : tidyPath(csv);
  const opened = csv === STDIN ? readStdin() : readText(csv);
  if ("problem" in opened) throw new CannotRun(refusals.cannotRead(shown, opened.problem));
  // The names alone first: a wrong one is wrong in every row.
  const rows = readPoints(shown, opened.text, (name) => {
    const condition = conditionNamed(model, name);
    if (!condition) throw new CannotRun(refusals.wrongColumn(shown, name, model.conditions.map((one) => one.name), model.picks.some((pick) => pick.name === name)));
    return condition.name;
  });
  const all = rows.map(({ row, entries, problem }): Answered | Refused => {
    const given = readGiven(model, entries, day, dayFrom);
    const problems = [
      ...(problem === undefined ? [] : [problem]),
      ...("problems" in given ? given.problems.map((one) => notes.cell(row, one.name, one.problem)) : []),
    ];
    if ("problems" in given || problems.length > 0) return refused(entries, problems);
    const answered = answerGiven(model, given.given, answersOf, { steps });
    return "problem" in answered ? refused(entries, [notes.row(row, answered.problem)]) : answered;
  });
  if (format === "json") print(json(model, all));
  else if (format === "csv") print(harmless(answersCsv(model, all)));
  else print(rowsText(model, all.map((one, at) => ({ row: rows[at]!.row, one }))));
  const bad = all.flatMap((one, at) => ("problems" in one ? [{ row: rows[at]!.row, problems: one.problems }] : []));
  // In text they stand where the answers would.
  if (format !== "text") for (const problem of bad.flatMap(({ problems }) => problems)) note(problem);
  else if (bad.length > 0) note(notes.rowsRefused(bad.map(({ row }) => row)));
  return bad.length > 0 ? 2 : exit;
}

function refused(entries: readonly Entry[], problems: readonly string[]): Refused {
  return { given: Object.fromEntries(entries.filter(([, value]) => value.trim() !== "")), problems };
}

function json(model: Model, all: readonly (Answered | Refused)[]): string {
  return jsonText(answersJson(model, all));
}

/** Cautions stand once at the end: a file of a hundred days would bury the answers under them. */
function rowsText(model: Model, all: readonly { readonly row: number; readonly one: Answered | Refused }[]): string {
  const { width } = terminalOf(process.stdout);
  const parts = all.map(({ row, one }) =>
    "problems" in one ? `${one.problems.map((problem) => wrap(problem, width, "  ", "")).join("\n")}\n` : `${notes.rowHeading(row)}\n${text(model, { ...one, cautions: [] })}`);
  const cautions = cautionsText(all.flatMap(({ row, one }) => ("problems" in one ? [] : [{ row, cautions: one.cautions }])), { width });
  return harmless([...parts, ...(cautions === "" ? [] : [cautions])].join("\n"));
}

function text(model: Model, answered: Answered): string {
  return harmless(answerText(model, answered, { width: terminalOf(process.stdout).width }));
}
