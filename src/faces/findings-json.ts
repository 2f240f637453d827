/** Findings for other programs: the shape that `src/schema/findings.json` describes. */
import { statuses } from "../analysis/outcome.js";
import type { Place } from "../diagnostics.js";
import type { LineMap, Position } from "../text.js";
import type { Checked } from "./checked.js";

export function checkJson({ books, findings, coverage, undecided, lines }: Checked): string {
  const report = {
    format: "waterlore-findings",
    version: 1,
    books: books.map(({ path, title }) => ({ path, title })),
    findings: findings.map(({ code, severity, title, message, help, pick, patterns, where, example, share, related, fixes, ...at }) => ({
      code, severity, title, message, help,
      ...placeJson(at, lines),
      pick, patterns, where, example, share,
      related: (related ?? []).map((other) => ({ ...placeJson(other, lines), message: other.message })),
      fixes: (fixes ?? []).map((fix) => ({ title: fix.title, edits: fix.edits.map((edit) => ({ ...placeJson(edit, lines), text: edit.text })) })),
    })),
    coverage: coverage.map(({ book, pick, judgement, shares }) => ({
      book, pick,
      judgement: judgement || undefined,
      shares: Object.fromEntries(statuses.map((status) => [status, shares[status].toFraction()])),
    })),
    undecided: undecided.map(({ book, what }) => ({ book, what })),
  };
  return `${JSON.stringify(report, null, 2)}\n`;
}

function placeJson({ path, range }: Place, lines: ReadonlyMap<string, LineMap>): { readonly path: string; readonly range: { readonly start: Position; readonly end: Position } } {
  const map = lines.get(path)!;
  return { path, range: { start: map.position(range.start), end: map.position(range.end) } };
}
