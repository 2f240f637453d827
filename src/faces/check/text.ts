/**
 * Findings for a person at a terminal:
 *
 *     error: Two patterns disagree [conflict]
 *       mine.lore:5:1
 *       5 | pattern "Clear water wants a leaf"
 *         | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
 *       Where clarity is clear and sky is dark, in 25 % of all conditions, …
 *       See also: mine.lore:8:1 “A dark sky wants a round blade” stands here
 *       Next: Say which one wins …
 *       Fix: Let “Clear water wants a leaf” beat “A dark sky wants a round blade”
 *
 * Where there are many errors, what to settle first stands on top, and the findings stand in that order.
 */
import Fraction from "fraction.js";
import { statuses } from "../../analysis/outcome.js";
import type { Finding, Severity } from "../../diagnostics.js";
import { terminalWords } from "../../messages/cli.js";
import { sayPercent } from "../../messages/words.js";
import { widthOf } from "../../render/columns.js";
import { harmless, marked, wrap, type Colors, type Terminal } from "../node/terminal.js";
import type { BookCoverage } from "./checked.js";
import { placeOf, summaryOf, type Report } from "./report.js";
import { inOrder } from "./settle-first.js";

const INDENT = "  ";

/** The whole report, ending in a line break. Coverage is shown for a single book, or when asked for. */
export function checkText(report: Report, terminal: Terminal, options: { readonly coverage: boolean }): string {
  const { books, coverage, log } = report;
  const { advice, findings } = inOrder(report);
  const parts = findings.map((finding) => findingText(finding, report, terminal));
  if (advice.length > 0) parts.unshift(advice.map((sentence) => wrap(harmless(sentence), terminal.width)).join("\n"));
  if (options.coverage || books.length === 1) parts.push(...coverageText(coverage, books.length > 1, log));
  const worst =
    findings.find(({ severity }) => severity === "error") ?? findings.find(({ severity }) => severity === "warning") ?? findings[0];
  const end = [wrap(summaryOf(report), terminal.width)];
  if (worst) end.push(terminalWords.hint(worst.code));
  return `${[...parts, end.join("\n")].join("\n\n")}\n`;
}

function findingText(finding: Finding, report: Report, { width, colors }: Terminal): string {
  const text = [headline(finding.severity, finding.title, finding.code, colors), INDENT + colors.cyan(harmless(placeOf(finding, report)))];
  const excerpt = excerptOf(finding, report, width, colors);
  if (excerpt !== undefined) text.push(excerpt);
  text.push(wrap(finding.message, width, INDENT));
  for (const related of finding.related ?? [])
    text.push(wrap(`${placeOf(related, report)} ${related.message}`, width, INDENT.repeat(2), `${INDENT}${terminalWords.also} `));
  if (finding.help !== "") text.push(wrap(finding.help, width, INDENT.repeat(2), `${INDENT}${terminalWords.next} `));
  for (const { title } of finding.fixes ?? []) text.push(wrap(title, width, INDENT.repeat(2), `${INDENT}${terminalWords.fix} `));
  return text.join("\n");
}

function headline(severity: Severity, title: string, code: string, colors: Colors): string {
  const color = { error: colors.red, warning: colors.yellow, note: colors.blue }[severity];
  return `${colors.bold(color(terminalWords.headline(severity)))}${colors.bold(`: ${harmless(title)}`)} ${colors.dim(`[${code}]`)}`;
}

/** The line a finding starts on, marked as far as the finding goes on it. */
function excerptOf({ path, range, severity }: Finding, { texts }: Report, width: number, colors: Colors): string | undefined {
  const map = texts.get(path)?.lines;
  if (map === undefined) return undefined;
  const start = map.position(range.start);
  const end = map.position(range.end);
  const line = map.line(start.line);
  const to = end.line === start.line ? end.column - 1 : line.length;
  const number = String(start.line);
  const { line: shown, marks } = marked(line, start.column - 1, to, width - INDENT.length - number.length - 3);
  const color = { error: colors.red, warning: colors.yellow, note: colors.blue }[severity];
  return [`${INDENT}${colors.dim(`${number} |`)} ${shown}`, `${INDENT}${colors.dim(`${" ".repeat(number.length)} |`)} ${color(marks)}`]
    .map((row) => row.trimEnd())
    .join("\n");
}

/** One table per book: picks down, the statuses that occur across. */
function coverageText(coverage: readonly BookCoverage[], named: boolean, log: Report["log"]): string[] {
  return [...new Set(coverage.map(({ book }) => book))].map((book) => {
    const picks = coverage.filter((pick) => pick.book === book);
    const columns = statuses.filter((status) => picks.some(({ shares }) => shares[status] !== "0"));
    const rows = [
      ["", ...columns],
      ...picks.map(({ pick, judgement, shares }) => [
        judgement ? terminalWords.judgement(pick) : pick,
        ...columns.map((status) => percent(shares[status])),
      ]),
    ];
    const widths = rows[0]!.map((_, at) => Math.max(...rows.map((row) => widthOf(row[at]!))));
    const pad = (cell: string, at: number): string => {
      const blanks = " ".repeat(widths[at]! - widthOf(cell));
      return at === 0 ? cell + blanks : blanks + cell;
    };
    return [
      log ? terminalWords.coverageByDays(log.days, harmless(log.path)) : terminalWords.coverage(named ? harmless(book) : undefined),
      ...rows.map((row) => `${INDENT}${row.map(pad).join("  ")}`.trimEnd()),
    ].join("\n");
  });
}

function percent(share: string): string {
  return share === "0" ? "-" : sayPercent(new Fraction(share));
}
