/**
 * Tables and answers as CSV (RFC 4180, but a line ends in \n): one line per row, or per answer.
 *
 *     clarity,cover,blade,blade status,because,silence    an empty cell: the condition does not matter in that row
 *     dirty or muddy,,"colorado, then indiana",decided,Mud wants thump,
 *
 * A spreadsheet works out a cell that begins like a formula; an apostrophe before it keeps it a text. A number below nothing is no formula.
 */
import type { Example } from "../diagnostics.js";
import { tableWords } from "../messages/table.js";
import { sayList } from "../messages/words.js";
import type { Model } from "../model/model.js";
import type { Table } from "../table/compile.js";
import { questionOf, type Refused } from "./json.js";
import { closedText } from "./text.js";
import type { Answered } from "../answer/answer.js";
import { cellWords } from "./words.js";
import { optionTexts } from "../model/texts.js";

/** One line per row of the table; of a pick its answer and its status; last, why nothing is said. Ends in a line break. */
export function tableCsv({ model, picks, conditions, rows }: Table): string {
  const names = conditions.map((index) => model.conditions[index]!);
  const head = [
    ...names.map(({ name }) => name),
    ...picks.flatMap((pick) => [model.picks[pick]!.name, `${model.picks[pick]!.name} status`]),
    "because",
    "silence",
  ];
  const lines = rows.map(({ box, outcomes, because, silence }) => [
    ...names.map((condition) => cellWords(model, condition, box)).map((words) => (words === tableWords.any ? "" : words)),
    ...picks.flatMap((pick, i) => [sayList(optionTexts(model.picks[pick]!, outcomes[i]!.places)), outcomes[i]!.status]),
    because.map((pattern) => model.patterns[pattern]!.title).join("; "),
    silence.join("; "),
  ]);
  return csv([head, ...lines]);
}

/** Answers as lines, so that a long file of them need never be held whole; a line is what was given and, after it, what is said. */
export interface AnswerLines {
  /** The first line, with its line break: what the cells of the others are. */
  readonly head: string;
  /** The names of its columns. */
  readonly columns: readonly string[];
  /** `beside`: cells that stand before all others. */
  given(values: Example, beside?: readonly string[]): string;
  /**
   * Of each pick its answer, status, and what is safe; then what closes everything, the question to ask, the cautions, and, where there is no answer, why. Begins
   * with a comma, ends in a line break.
   */
  said(one: Answered | Refused): string;
}

export function answerLines(model: Model): AnswerLines {
  const conditions = model.conditions.map(({ name }) => name);
  const picks = model.picks.map(({ name }) => name);
  const value = (given: string | readonly string[] | undefined): string =>
    given === undefined ? "" : typeof given === "string" ? given : given.join(";") || "none";
  const said = (one: Answered | Refused): readonly string[] => {
    if ("problems" in one) return [...picks.flatMap(() => ["", "", ""]), "", "", "", one.problems.join(" ")];
    return [
      ...one.picks.flatMap(({ pick: index, outcome, undecided, safe }) => {
        const pick = model.picks[index]!;
        return [
          sayList(optionTexts(pick, outcome?.places ?? [])),
          outcome?.status ?? (undecided ? "undecided" : "depends"),
          sayList(optionTexts(pick, safe)),
        ];
      }),
      one.closed.map((closed) => closedText(model, closed)).join("; "),
      one.ask === undefined ? "" : questionOf(model.conditions[one.ask]!),
      one.cautions.map(({ caution: { title }, sure }) => (sure ? title : tableWords.may(title))).join("; "),
      "",
    ];
  };
  const columns = [
    ...conditions,
    ...picks.flatMap((name) => [name, `${name} status`, `${name} safe`]),
    "closed",
    "ask",
    "cautions",
    "error",
  ];
  return {
    head: csv([columns]),
    columns,
    // A condition may be called `constructor`.
    given: (values, beside = []) =>
      cellsOf([...beside, ...conditions.map((name) => value(Object.hasOwn(values, name) ? values[name] : undefined))]),
    said: (one) => `,${csv([said(one)])}`,
  };
}

/** Lines of cells; each ends in a line break. */
export function csv(lines: readonly (readonly string[])[]): string {
  return lines.map((cells) => `${cellsOf(cells)}\n`).join("");
}

/** A line of cells, without its line break. */
export function cellsOf(cells: readonly string[]): string {
  return cells.map((cell) => quoted(inert(cell))).join(",");
}

function inert(cell: string): string {
  return /^[=+@\t\r]|^-.*[^\p{L}\p{N}\s.,;/°%-]/su.test(cell) ? `'${cell}` : cell;
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
