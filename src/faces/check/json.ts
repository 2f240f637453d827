/** Findings for other programs: the shape that `src/schema/findings.json` describes. */
import type { Place } from "../../diagnostics.js";
import { jsonText } from "../node/terminal.js";
import { linesOf, type Report } from "./report.js";

export function checkJson(report: Report): string {
  const { books, findings, coverage, log, undecided, known, baseline } = report;
  const json = {
    format: "waterlore-findings",
    version: 1,
    books: books.map(({ path, title }) => ({ path, title })),
    findings: findings.map(({ code, severity, title, message, help, pick, patterns, where, example, share, related, fixes, ...at }) => ({
      code,
      severity,
      title,
      message,
      help,
      ...placeJson(at, report),
      pick,
      patterns,
      where,
      example,
      share,
      related: (related ?? []).map((other) => ({ ...placeJson(other, report), message: other.message })),
      fixes: (fixes ?? []).map((fix) => ({
        title: fix.title,
        edits: fix.edits.map((edit) => ({ ...placeJson(edit, report), text: edit.text })),
      })),
    })),
    coverage: coverage.map(({ book, pick, judgement, shares }) => ({ book, pick, judgement: judgement || undefined, shares })),
    log,
    undecided: undecided.map(({ book, what }) => ({ book, what })),
    known: baseline ? known.length : undefined,
  };
  return jsonText(json);
}

function placeJson(place: Place, report: Report): { readonly path: string; readonly range: ReturnType<typeof linesOf> } {
  return { path: place.path, range: linesOf(place, report) };
}
