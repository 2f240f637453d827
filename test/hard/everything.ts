/**
 * All that Waterlore makes of a set of books, in one process, held to what it promises of any input:
 *
 *     texts ──▶ findings as text, JSON, SARIF, JUnit and GitHub commands; table and charts; answer and why; format
 *
 * No throw; places inside the texts; JSON of the published shape; nothing that drives a terminal; nothing lost in formatting.
 */
import { Ajv2020, type ValidateFunction } from "ajv/dist/2020.js";
import { readFileSync } from "node:fs";
import { expect } from "vitest";
import * as T from "../../grammar/tokens.js";
import { answers } from "../../src/analysis/answers.js";
import { severities, type Finding } from "../../src/diagnostics.js";
import { checkBooks } from "../../src/faces/check/checked.js";
import { checkGithub } from "../../src/faces/check/github.js";
import { checkJson } from "../../src/faces/check/json.js";
import { checkJunit } from "../../src/faces/check/junit.js";
import { checkSarif } from "../../src/faces/check/sarif.js";
import { checkText } from "../../src/faces/check/text.js";
import type { Report } from "../../src/faces/check/report.js";
import { harmless, jsonText, terminalOf } from "../../src/faces/node/terminal.js";
import { resolve } from "../../src/model/resolve.js";
import type { Read } from "../../src/model/books.js";
import { parse } from "../../src/syntax/parse.js";
import { format } from "../../src/syntax/print.js";
import { chartTables } from "../../src/render/chart.js";
import { compile } from "../../src/table/compile.js";
import { tableCsv } from "../../src/render/csv.js";
import { explainAnswer } from "../../src/answer/explain-answer.js";
import { answerExplainedMarkdown, answerExplainedText } from "../../src/render/explain-text.js";
import { readGiven } from "../../src/answer/given.js";
import { answersJson, tableJson } from "../../src/render/json.js";
import { chartsMarkdown } from "../../src/render/charts-markdown.js";
import { answer } from "../../src/answer/answer.js";
import { answerText, chartsText } from "../../src/render/text.js";

export type Texts = Readonly<Record<string, string>>;

/** The day of all tests here, and few steps: a random book may be as hard as it likes. */
const on = "2027-04-15";
const steps = 4_000;

/** What drives a terminal: control characters but for tab and line end, and signs that turn the reading direction. */
export const driving = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

const schemas = Object.fromEntries(
  ["findings", "table", "answers"].map((name): [string, ValidateFunction] => [
    name,
    new Ajv2020({ strict: true, strictRequired: false }).compile(
      JSON.parse(readFileSync(new URL(`../../src/schema/${name}.json`, import.meta.url), "utf8")) as object,
    ),
  ]),
);

/** Text of JSON that has the published shape. */
function expectShape(shape: "findings" | "table" | "answers", text: string): void {
  const valid = schemas[shape]!;
  expect(valid(JSON.parse(text)), JSON.stringify(valid.errors?.[0])).toBe(true);
  expect(text.replaceAll("\n", "")).not.toMatch(driving);
}

export function readerOf(texts: Texts): Read {
  return (path) => (Object.hasOwn(texts, path) ? { text: texts[path]! } : { problem: "there is no such file" });
}

/** The findings of a check, after all forms of its report have been looked at. */
export async function checkIn(texts: Texts, root: string): Promise<readonly Finding[]> {
  const checked = await checkBooks([{ path: root, text: texts[root]! }], readerOf(texts), { on, steps });
  for (const finding of checked.findings) expectFinding(finding, texts);
  const report: Report = { ...checked, known: [], baseline: false, unreadable: [], lowest: "error" };
  expectShape("findings", checkJson(report));
  for (const text of [
    checkText(report, terminalOf({}, {}), { coverage: true }),
    checkGithub(report, ""),
    checkSarif(report),
    checkJunit(report),
  ]) {
    expect(text.replaceAll("\n", "")).not.toMatch(driving);
    expect(text).not.toMatch(/undefined|\[object |NaN %|\bInfinity %/);
  }
  for (const { shares } of checked.coverage) expect(sumOf(Object.values(shares))).toBe("1");
  return checked.findings;
}

function expectFinding({ code, severity, title, message, help, path, range, related, fixes }: Finding, texts: Texts): void {
  expect(Object.keys(severities)).toContain(code);
  expect(["error", "warning", "note"]).toContain(severity);
  expect([title, message, help].every((sentence) => sentence.trim() !== "")).toBe(true);
  for (const place of [{ path, range }, ...(related ?? []), ...(fixes ?? []).flatMap(({ edits }) => edits)]) {
    const length = texts[place.path]?.length ?? -1;
    expect(Number.isInteger(place.range.start) && Number.isInteger(place.range.end)).toBe(true);
    expect(
      0 <= place.range.start && place.range.start <= place.range.end && place.range.end <= length,
      `${code} ${title}: ${JSON.stringify(place)}`,
    ).toBe(true);
  }
}

/** Exact sum of fractions. */
function sumOf(shares: readonly string[]): string {
  const parts = shares.map((share) => share.split("/").map(BigInt) as [bigint, bigint?]);
  const common = parts.reduce((product, [, d = 1n]) => product * d, 1n);
  const sum = parts.reduce((total, [n, d = 1n]) => total + (n * common) / d, 0n);
  return sum === common ? "1" : `${sum}/${common}`;
}

/** Table, charts, an answer to nothing known and why: made, or refused in a sentence. */
export function useIn(texts: Texts, root: string): void {
  const { model } = resolve(parse(texts[root]!, root), readerOf(texts), { on });
  const found = answers(model, { steps });
  const made = model.picks.some(({ judgement }) => !judgement) ? compile(found, { steps }) : { problem: "The book recommends nothing." };
  if ("table" in made) {
    expectShape("table", jsonText(tableJson(found, made.table)));
    expect(harmless(tableCsv(made.table)).replaceAll("\n", "")).not.toMatch(driving);
  } else expect(made.problem).toMatch(/\.$/);
  const charts = chartTables(found, undefined, { steps });
  if ("tables" in charts)
    expect(harmless(chartsText(found, charts.tables) + chartsMarkdown(found, charts.tables)).replaceAll("\n", "")).not.toMatch(driving);
  else expect(charts.problem).toMatch(/\.$/);
  const given = readGiven(model, []);
  if (!("given" in given)) throw new Error("nothing given is always understood");
  const answered = answer(model, given.given, () => found, { steps });
  if ("problem" in answered) {
    expect(answered.problem).toMatch(/\.$/);
    return;
  }
  expectShape("answers", jsonText(answersJson(model, [answered])));
  expect(harmless(answerText(model, answered)).replaceAll("\n", "")).not.toMatch(driving);
  const explained = explainAnswer(model, answered);
  for (const text of [answerExplainedText(model, explained), answerExplainedMarkdown(model, explained)])
    expect(harmless(text).replaceAll("\n", "")).not.toMatch(driving);
}

/** Formats once and for all; loses no word and no comment; what is wrong stays as wrong as it was. */
export function formatIn(text: string): string {
  const once = format(text);
  expect(format(once)).toBe(once);
  expect(without(wordsOf(text), wordsOf(once))).toEqual([]);
  expect(without(wordsOf(once), wordsOf(text)).filter((word) => word !== "," && word !== "first")).toEqual([]);
  const codes = (book: string): string[] =>
    parse(book, "x.lore")
      .findings.map(({ code, title }) => `${code}: ${title}`)
      .sort();
  expect(codes(once)).toEqual(codes(text));
  return once;
}

const lexer = T.makeLexer({ validate: false });

/** What of `some` is not in `others`, each as often as it stands there. */
function without(some: readonly string[], others: readonly string[]): readonly string[] {
  const left = new Map<string, number>();
  for (const word of others) left.set(word, (left.get(word) ?? 0) + 1);
  return some.filter((word) => {
    const there = left.get(word) ?? 0;
    left.set(word, there - 1);
    return there <= 0;
  });
}

/** All words and comments of a text, however they are set out. Parentheses come and go; a missing comma, or the `first` of a `trust`, is put in. */
function wordsOf(text: string): readonly string[] {
  const { tokens, groups } = lexer.tokenize(text);
  const words = tokens
    .filter(({ tokenType }) => tokenType !== T.Open && tokenType !== T.Close)
    .map((token) => T.wordOf.get(token.tokenType)?.phrase ?? token.image.replace(/\s+/g, " "));
  return [
    ...words,
    ...Object.values(groups)
      .flat()
      .map(({ image }) => image.trimEnd()),
  ];
}
