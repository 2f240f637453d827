/** `waterlore answer`: what to tie on, for one point or for every row of a file of points. */
import { STEPS } from "../../../analysis/analyse.js";
import { answers as answersTo, type Answers } from "../../../analysis/answers.js";
import { alikeKey } from "../../../answer/alike.js";
import { answer, type Answered } from "../../../answer/answer.js";
import { conditionNamed, readGiven, type Given } from "../../../answer/given.js";
import { commandNotes, commandRefusals } from "../../../messages/cli.js";
import type { Model } from "../../../model/model.js";
import { nearest } from "../../../suggest.js";
import { answerLines, cellsOf } from "../../../render/csv.js";
import { answersJson, type Refused } from "../../../render/json.js";
import { answerText, cautionsText } from "../../../render/text.js";
import { readPoints, type Entry } from "../../node/csv.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { largestFile, readPieces, STDIN } from "../../node/read.js";
import { nameOf } from "../../node/source.js";
import { note, output, print } from "../../node/streams.js";
import { harmless, jsonText, terminalOf, wrap } from "../../node/terminal.js";
import { openModel, type BookOptions, type OpenModel } from "../book.js";
import { answerOrStop, entriesOf, givenOrStop } from "../given.js";

export interface AnswerOptions extends BookOptions {
  readonly csv?: string;
  readonly format: "text" | "json" | "csv";
}

export async function answerCommand(path: string, values: readonly string[], options: AnswerOptions): Promise<ExitCode> {
  if (options.csv === undefined && options.format === "csv") throw new CannotRun(commandRefusals.csvNeedsCsv);
  if (options.csv !== undefined && values.length > 0) throw new CannotRun(commandRefusals.valuesAndCsv);
  if (options.csv === STDIN && path === STDIN) throw new CannotRun(commandRefusals.stdinTwice);
  const book = await openModel(path, options);
  if (options.csv !== undefined) return answerAll(book, options.csv, options.format);
  const answered = answerOrStop(book, givenOrStop(book, entriesOf(values)));
  print(options.format === "json" ? json(book.model, [answered]) : text(book.model, answered));
  return book.exit;
}

/** A row of a file of points, answered. */
interface AnsweredRow {
  readonly row: number;
  readonly beside: readonly Entry[];
  readonly one: Answered | Refused;
}

async function answerAll(book: OpenModel, csv: string, format: AnswerOptions["format"]): Promise<ExitCode> {
  if (format === "csv") return answerLineByLine(book, csv);
  const all: AnsweredRow[] = [];
  const answerOf = answering(book);
  for await (const { row, entries, beside, read } of pointsIn(book, csv, { most: largestFile }))
    all.push({ row, beside, one: "given" in read ? answerOf(row, entries, read.given) : refused(entries, read.problems) });
  print(
    format === "json"
      ? json(
          book.model,
          all.map(({ one }) => one),
          all.map(({ beside }) => beside),
        )
      : rowsText(book.model, all),
  );
  const bad = all.flatMap(({ row, one }) => ("problems" in one ? [{ row, problems: one.problems }] : []));
  // In text they stand where the answers would.
  if (format !== "text") for (const problem of bad.flatMap(({ problems }) => problems)) note(problem);
  else if (bad.length > 0) note(commandNotes.rowsRefused(bad.map(({ row }) => row)));
  return bad.length > 0 ? 2 : book.exit;
}

/** Each answer is written before the next rows are read, as fast as they are taken: a file may be as long as it likes. */
async function answerLineByLine(book: OpenModel, csv: string): Promise<ExitCode> {
  const { head, given, said } = answerLines(book.model);
  const answerOf = answering(book);
  const keyOf = alikeKey(book.model);
  const known = new Map<string, string>();
  const out = output();
  let { exit } = book;
  let text = "";
  const others: string[] = [];
  // What else stands in the rows is known once the first of them is, or all of a file that holds none.
  let heads = (beside: readonly string[]): string => (beside.length === 0 ? head : `${cellsOf(beside)},${head}`);
  try {
    for await (const { row, entries, beside, read } of pointsIn(book, csv, { others })) {
      text += heads(beside.map(([heading]) => heading));
      heads = () => "";
      const cells = beside.map(([, cell]) => cell);
      const key = "given" in read ? keyOf(read.given.box) : undefined;
      let rest = key === undefined ? undefined : known.get(key);
      if (rest !== undefined && "given" in read) text += given(read.given.values, cells) + rest;
      else {
        const one = "given" in read ? answerOf(row, entries, read.given) : refused(entries, read.problems);
        rest = said(one);
        text += given("problems" in one ? one.given : one.given.values, cells) + rest;
        if ("problems" in one) {
          exit = 2;
          for (const problem of one.problems) note(problem);
        } else if (key !== undefined) {
          if (known.size === MOST_KNOWN) known.clear();
          known.set(key, rest);
        }
      }
      if (text.length < PIECE) continue;
      if (!(await out.write(harmless(text)))) return exit;
      text = "";
    }
  } catch (error) {
    // Rows before the fault are answered, unless none has been written yet.
    if (out.begun()) await out.write(harmless(text));
    throw error;
  }
  await out.write(harmless(text + heads(others)));
  return exit;
}

/** Characters that are written at once. */
const PIECE = 1 << 16;

/** Answers that are kept for rows to come: one for all that the book cannot tell apart. */
const MOST_KNOWN = 50_000;

/** What is worked out for one row helps the next, and is let go after so many, so that it cannot pile up. */
const LET_GO = 2_000;

/** A row of a file of points, read. */
interface ReadRow {
  readonly row: number;
  readonly entries: readonly Entry[];
  readonly beside: readonly Entry[];
  readonly read: { readonly given: Given } | { readonly problems: readonly string[] };
}

/** `most`: characters that the file may have. `others` is filled with the headings that name no condition, and holds them all at the first row. */
async function* pointsIn(
  { model, day, dayFrom }: OpenModel,
  csv: string,
  { most, others = [] }: { readonly most?: number; readonly others?: string[] } = {},
): AsyncGenerator<ReadRow> {
  const shown = nameOf(csv);
  const pieces = readPieces(csv, (problem) => new CannotRun(commandRefusals.cannotRead(shown, problem)), most);
  // The names alone first: a wrong one is wrong in every row.
  const rows = readPoints(shown, pieces, (heading) => {
    const condition = conditionNamed(model, heading);
    if (condition) return condition.name;
    const problem = wrongColumn(model, shown, heading, others);
    if (problem !== undefined) throw new CannotRun(problem);
    others.push(heading);
    return undefined;
  });
  let told = false;
  const tellOthers = (): void => {
    if (!told && others.length > 0) note(commandNotes.columnsBeside(shown, others));
    told = true;
  };
  for await (const { row, entries, beside, problem } of rows) {
    tellOthers();
    const given = readGiven(model, entries, day, dayFrom);
    const problems = [
      ...(problem === undefined ? [] : [problem]),
      ...("problems" in given ? given.problems.map((one) => commandNotes.cell(row, one.name, one.problem)) : []),
    ];
    yield { row, entries, beside, read: "problems" in given || problems.length > 0 ? { problems } : given };
  }
  tellOthers();
}

/** Why a column that names no condition cannot just be passed on; `others`: those before it that are. */
function wrongColumn(model: Model, path: string, heading: string, others: readonly string[]): string | undefined {
  const conditions = model.conditions.map(({ name }) => name);
  const say = (why: Parameters<typeof commandRefusals.wrongColumn>[3], close?: string): string =>
    commandRefusals.wrongColumn(path, heading, conditions, why, close);
  const close = nearest(heading, [...conditions, ...model.conditions.map(({ label }) => label)]);
  if (heading === "" || close !== undefined) return say("near", close);
  if (model.picks.some(({ name }) => name === heading)) return say("pick");
  if (answerLines(model).columns.includes(heading)) return say("answer");
  return others.includes(heading) ? say("twice") : undefined;
}

function answering({ model, steps }: OpenModel): (row: number, entries: readonly Entry[], given: Given) => Answered | Refused {
  let asked = 0;
  let current: Answers | undefined;
  const answers = (): Answers => (current ??= answersTo(model, { steps: steps ?? STEPS }));
  return (row, entries, given) => {
    if (++asked % LET_GO === 0) current = undefined;
    const answered = answer(model, given, answers, { steps });
    return "problem" in answered ? refused(entries, [commandNotes.row(row, answered.problem)]) : answered;
  };
}

function refused(entries: readonly Entry[], problems: readonly string[]): Refused {
  return { given: Object.fromEntries(entries.filter(([, value]) => value.trim() !== "")), problems };
}

function json(model: Model, all: readonly (Answered | Refused)[], beside?: readonly (readonly Entry[])[]): string {
  return jsonText(answersJson(model, all, beside));
}

/** Cautions stand once at the end: a file of a hundred days would bury the answers under them. */
function rowsText(model: Model, all: readonly AnsweredRow[]): string {
  const { width } = terminalOf(process.stdout);
  const parts = all.map(({ row, one }) =>
    "problems" in one
      ? `${one.problems.map((problem) => wrap(problem, width, "  ", "")).join("\n")}\n`
      : `${commandNotes.rowHeading(row)}\n${text(model, { ...one, cautions: [] })}`,
  );
  const cautions = cautionsText(
    all.flatMap(({ row, one }) => ("problems" in one ? [] : [{ row, cautions: one.cautions }])),
    { width },
  );
  return harmless([...parts, ...(cautions === "" ? [] : [cautions])].join("\n"));
}

function text(model: Model, answered: Answered): string {
  return harmless(answerText(model, answered, { width: terminalOf(process.stdout).width }));
}
