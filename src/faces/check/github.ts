/**
 * Findings as GitHub workflow commands, which mark lines of a change with what was found there.
 *
 *     ::error file=rules/blades.lore,line=8,endLine=8,col=9,endColumn=41,title=Two patterns disagree [conflict]::Where clarity is …%0ANext: Say …
 *
 * Escapes are those of GitHub's own toolkit (packages/core/src/command.ts): `%`, CR and LF everywhere, `:` and `,` in properties too.
 * Columns go with a finding on one line only, as the toolkit says. Files are named from the top of the checkout.
 */
import type { Finding } from "../../diagnostics.js";
import { formatWords } from "../../messages/ci.js";
import { pathInside } from "../node/paths.js";
import { harmless } from "../node/terminal.js";
import { linesOf, placeOf, summaryOf, type Report } from "./report.js";

const commands = { error: "error", warning: "warning", note: "notice" } as const;

/** One line for each finding and each book that could not be read, and then, for whoever reads the log, the sum. */
export function checkGithub(report: Report, top = process.env["GITHUB_WORKSPACE"]): string {
  const lines = [
    ...report.findings.map((finding) => findingLine(finding, report, top)),
    ...report.unreadable.map(({ path, sentence }) => command("error", { file: fromTop(path, top) }, sentence)),
    summaryOf(report),
  ];
  return `${lines.join("\n")}\n`;
}

function findingLine(finding: Finding, report: Report, top: string | undefined): string {
  const { start, end } = linesOf(finding, report);
  const columns: Readonly<Record<string, number>> =
    start.line === end.line ? { col: start.column, endColumn: Math.max(start.column, end.column - 1) } : {};
  const also = (finding.related ?? []).map((related) => formatWords.also(placeOf(related, report), related.message));
  return command(
    commands[finding.severity],
    { file: fromTop(finding.path, top), line: start.line, endLine: end.line, ...columns, title: `${finding.title} [${finding.code}]` },
    [finding.message, ...also, ...(finding.help === "" ? [] : [formatWords.next(finding.help)])].join("\n"),
  );
}

function command(name: string, properties: Readonly<Record<string, string | number>>, message: string): string {
  const written = Object.entries(properties).map(
    ([key, value]) => `${key}=${data(String(value)).replaceAll(":", "%3A").replaceAll(",", "%2C")}`,
  );
  return `::${name} ${written.join(",")}::${data(message)}`;
}

function data(text: string): string {
  return harmless(text.replaceAll("%", "%25").replaceAll("\r", "%0D").replaceAll("\n", "%0A"));
}

function fromTop(path: string, top: string | undefined): string {
  if (top === undefined || top === "") return path;
  return pathInside(top, path) ?? path;
}
