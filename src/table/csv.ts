/**
 * Tables and answers as CSV (RFC 4180, but a line ends in \n): one line per row, or per answer.
 *
 *     clarity,cover,blade,blade status,because            an empty cell: the condition does not matter in that row
 *     dirty or muddy,,"colorado, then indiana",decided,Mud wants thump
 *
 * A spreadsheet works out a cell that begins like a formula; an apostrophe before it keeps it a text. A number below nothing is no formula.
 */
import { say } from "../messages/table.js";
import { sayList } from "../messages/words.js";
import type { Model } from "../model/model.js";
import type { Table } from "./compile.js";
import { answerJson, optionTexts, questionOf, type Refused } from "./json.js";
import type { Answered } from "./partial.js";
import { cellWords } from "./words.js";

/** One line per row of the table; of a pick its answer and its status. Ends in a line break. */
export function tableCsv({ model, picks, conditions, rows }: Table): string {
  const names = conditions.map((index) => model.conditions[index]!);
  const head = [...names.map(({ name }) => name), ...picks.flatMap((pick) => [model.picks[pick]!.name, `${model.picks[pick]!.name} status`]), "because"];
  const lines = rows.map(({ box, outcomes, because }) => [
    ...names.map((condition) => cellWords(model, condition, box)).map((words) => (words === say.any ? "" : words)),
    ...picks.flatMap((pick, i) => [sayList(optionTexts(model.picks[pick]!, outcomes[i]!.places)), outcomes[i]!.status]),
    because.map((pattern) => model.patterns[pattern]!.title).join("; "),
  ]);
  return csv([head, ...lines]);
}

/**
 * One line per answer, in order: what was given, then of each pick its answer, status, and what is safe; then the question to ask,
 * the cautions, and, where there is no answer, why. Ends in a line break.
 */
export function answersCsv(model: Model, all: readonly (Answered | Refused)[]): string {
  const conditions = model.conditions.map(({ name }) => name);
  const picks = model.picks.map(({ name }) => name);
  const head = [...conditions, ...picks.flatMap((name) => [name, `${name} status`, `${name} safe`]), "ask", "cautions", "error"];
  const value = (given: string | readonly string[] | undefined): string => (given === undefined ? "" : typeof given === "string" ? given : given.join(";") || "none");
  const lines = all.map((one) => {
    if ("problems" in one) return [...conditions.map((name) => value(Object.hasOwn(one.given, name) ? one.given[name] : undefined)), ...picks.flatMap(() => ["", "", ""]), "", "", one.problems.join(" ")];
    const answer = answerJson(model, one);
    const given = new Map(Object.entries(answer.given));
    return [
      ...conditions.map((name) => value(given.get(name))),
      ...picks.flatMap((name) => [sayList(answer.picks[name]!.answer), answer.picks[name]!.status, sayList(answer.picks[name]!.safe)]),
      one.ask === undefined ? "" : questionOf(model.conditions[one.ask]!),
      answer.cautions.map(({ caution, may }) => (may ? say.may(caution) : caution)).join("; "), "",
    ];
  });
  return csv([head, ...lines]);
}

function csv(lines: readonly (readonly string[])[]): string {
  return lines.map((cells) => `${cells.map((cell) => quoted(inert(cell))).join(",")}\n`).join("");
}

function inert(cell: string): string {
  return /^[=+@\t\r]|^-.*[^\p{L}\p{N}\s.,;/°%-]/su.test(cell) ? `'${cell}` : cell;
}

function quoted(cell: string): string {
  return /[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
