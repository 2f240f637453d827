/** Tables as charts on the wall, and answers, in plain text of at most 80 columns. */
import type { Answers } from "../analysis/answers.js";
import { tableWords } from "../messages/table.js";
import { sayExample } from "../messages/words.js";
import type { Caution, Model } from "../model/model.js";
import type { Warning } from "../answer/cautions.js";
import type { Closed } from "../answer/closed.js";
import { silenceText } from "../model/reader.js";
import { outcomeText, sheetOf, type Chart } from "./chart.js";
import { inColumns, widthOf, wrapped } from "./columns.js";
import type { Table } from "../table/compile.js";
import { saidValues } from "../answer/given.js";
import { closedReason, questionOf, reasonJson } from "./json.js";
import { judgementsLast, type Answered, type PickAnswered } from "../answer/answer.js";
import { optionTexts } from "../model/texts.js";
import { sourceWords } from "./sources.js";
import { pickLabel } from "./words.js";

export interface TextOptions {
  /** Columns to fit in; 80 if not said. */
  readonly width?: number;
  /** Lines of a chart may be longer than that where a word would have to be cut. */
  readonly whole?: boolean;
}
const WIDTH = 80;

/** One chart after another, the cautions at the end. Ends in a line break. */
export function chartsText(answers: Answers, tables: readonly Table[], { width = WIDTH, whole }: TextOptions = {}): string {
  const { headline, closed, charts, legend, cautions } = sheetOf(answers, tables);
  const lines = [
    ...wrapped(headline, width),
    ...(closed.length === 0 ? [] : ["", ...closed.flatMap((line) => wrapped(line, width))]),
    ...charts.flatMap((chart) => ["", ...chartText(chart, width, whole)]),
    ...(legend.length === 0 ? [] : ["", ...legend.flatMap((line) => wrapped(line, width, 2))]),
    ...(cautions.length === 0 ? [] : ["", tableWords.mind, ...cautions.flatMap((caution) => wrapped(`- ${caution}`, width, 2))]),
  ];
  return `${lines.join("\n")}\n`;
}

/** An answer as it is read out at the counter. Ends in a line break. */
export function answerText(model: Model, answered: Answered, { width = WIDTH }: TextOptions = {}): string {
  const picks = judgementsLast(model, answered.picks).filter(({ shut }) => !shut);
  const labels = picks.map(({ pick }) => pickLabel(model.picks[pick]!));
  const indent = Math.min(Math.max(0, ...labels.map(widthOf)) + 2, Math.floor(width / 3));
  const { ask, cautions, closed } = answered;
  const asked = ask === undefined ? [] : wrapped(askText(model, ask), width);
  const parts = [
    wrapped(givenText(model, answered), width),
    // Whether it is closed is told and asked before anything else.
    [...closed.map((one) => closedText(model, one)).flatMap((line) => wrapped(line, width)), ...(closed.length > 0 ? asked : [])],
    picks.flatMap((one, i) => beside(labels[i]!, pickText(model, one), indent, width)),
    closed.length > 0 ? [] : asked,
  ];
  const lines = parts.filter((part) => part.length > 0).flatMap((part, i) => (i === 0 ? part : ["", ...part]));
  return `${lines.join("\n")}\n${cautions.length === 0 ? "" : `\n${warningsText(cautions, { width })}`}`;
}

/** What is known, and what is not though it can change an answer. */
export function givenText(model: Model, { given, open }: Answered): string {
  return tableWords.given(
    Object.keys(given.values).length === 0 ? "" : sayExample(saidValues(model, given)),
    open.filter((index) => !given.partly.includes(index)).map((index) => model.conditions[index]!.name),
  );
}

/** What closes everything, or may. */
export function closedText(model: Model, { silence, sure }: Closed): string {
  return sure ? closedReason(model, silence) : tableWords.mayBeClosed(silence.because, silenceText(model, silence));
}

export function askText(model: Model, condition: number): string {
  return tableWords.ask(questionOf(model.conditions[condition]!));
}

/** The cautions beside an answer. Ends in a line break. */
export function warningsText(warnings: readonly Warning[], { width = WIDTH }: TextOptions = {}): string {
  return mindText(warnings.map(warningText), width);
}

export function warningText({ caution, sure }: Warning): string {
  return cautionText(caution, sure ? caution.title : tableWords.may(caution.title));
}

/** The cautions of several answers, each once, with the rows it belongs to. Ends in a line break; empty if there are none. */
export function cautionsText(
  answers: readonly { readonly row: number; readonly cautions: readonly Warning[] }[],
  { width = WIDTH }: TextOptions = {},
): string {
  const all = [...new Set(answers.flatMap(({ cautions }) => cautions.map(({ caution }) => caution)))].sort((a, b) => a.index - b.index);
  if (all.length === 0) return "";
  const rows = (of: Caution, sure: boolean): readonly number[] =>
    answers.filter(({ cautions }) => cautions.some((one) => one.caution === of && one.sure === sure)).map(({ row }) => row);
  return mindText(
    all.map((caution) => cautionText(caution, caution.title, tableWords.inRows(rows(caution, true), rows(caution, false)))),
    width,
  );
}

function mindText(cautions: readonly string[], width: number): string {
  return `${[tableWords.mind, ...cautions.flatMap((caution) => wrapped(`- ${caution}`, width, 2))].join("\n")}\n`;
}

function cautionText({ say: text, see }: Caution, title: string, when?: string): string {
  const said = tableWords.caution(title, when, text);
  return [said, sourceWords(see)].filter(Boolean).join(" ");
}

/** Possible outcomes beyond this many are counted, not named. */
const MOST_POSSIBLE = 5;

/** What is known of one pick, a line each; the first is its answer, or that it depends. */
export function pickText(model: Model, { pick, outcome, because, safe, possible, undecided }: PickAnswered): readonly string[] {
  if (undecided) return [tableWords.notDecided];
  if (outcome) {
    const reasons = because.map((reason) => reasonJson(model, reason)).filter(({ pattern, text }) => (pattern ?? text) !== undefined);
    return [outcomeText(model, pick, outcome), ...reasons.map(({ pattern, text }) => tableWords.reason(pattern, text))];
  }
  const named = possible.slice(0, MOST_POSSIBLE).map(({ outcome, share }) => tableWords.possible(outcomeText(model, pick, outcome), share));
  const more = possible.length - named.length;
  return [
    tableWords.depends,
    safe.length > 0 ? tableWords.safe(optionTexts(model.picks[pick]!, safe)) : tableWords.nothingSafe,
    ...named,
    ...(more > 0 ? [tableWords.morePossible(more)] : []),
  ];
}

function chartText({ title, silences, across, head, lines }: Chart, width: number, whole?: boolean): readonly string[] {
  // Whatever stands above in the same column is not said again, as long as everything before it is the same too.
  const cells = lines.map((line, i) => {
    const above = lines[i - 1]?.cells;
    let repeats = across === undefined && above !== undefined;
    return line.cells.map((cell, column) => {
      repeats &&= cell === above![column] && column < line.cells.length - 1;
      return repeats ? "" : cell;
    });
  });
  const grouped = cells.some(([first]) => first === "");
  return [
    title,
    ...silences.flatMap((line) => wrapped(line, width)),
    "",
    ...inColumns(
      head,
      cells.map((line) => ({ cells: line, apart: grouped && line[0] !== "" })),
      width,
      { across, whole },
    ),
  ];
}

/** A label in its own column, text beside it, one paragraph under another. */
function beside(label: string, paragraphs: readonly string[], indent: number, width: number): readonly string[] {
  const text = paragraphs.flatMap((paragraph, i) =>
    wrapped(paragraph, width - indent - (i > 0 ? 2 : 0), 2).map((line) => (i > 0 ? `  ${line}` : line)),
  );
  const names = wrapped(label, indent - 2);
  return Array.from({ length: Math.max(text.length, names.length) }, (_, i) => {
    const name = names[i] ?? "";
    return `${name}${" ".repeat(indent - widthOf(name))}${text[i] ?? ""}`.trimEnd();
  });
}
