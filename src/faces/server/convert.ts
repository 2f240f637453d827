/**
 * Offsets and findings into the protocol's positions and diagnostics, and back. Both count UTF-16 units; the protocol counts from 0.
 *
 *     finding { code, range 812–829, related … } ──▶ diagnostic { range 51:8–51:25, code, codeDescription, relatedInformation, tags … }
 */
import {
  DiagnosticSeverity,
  DiagnosticTag,
  type Diagnostic,
  type Location,
  type Position,
  type Range as Lines,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import type { Code, Edit, Finding, Place, Severity } from "../../diagnostics.js";
import { lineMap, type LineMap, type Range } from "../../text.js";
import type { View } from "../../service/view.js";

/** Where the books of a view are, and where in them. */
export interface PositionsIn {
  uriOf(path: string): string;
  /** Undefined for a book that the view did not read. */
  linesOf(path: string): LineMap | undefined;
}

export function placesIn(view: View, uriOf: (path: string) => string): PositionsIn {
  return { uriOf, linesOf: (path) => (path === view.path ? view.lines : linesOfBase(view, path)) };
}

const known = new WeakMap<object, LineMap>();

/** A base book stays the same tree while its text does. */
function linesOfBase({ model }: View, path: string): LineMap | undefined {
  const book = model.books.find((one) => one.path === path);
  if (book === undefined) return undefined;
  let lines = known.get(book.tree);
  if (lines === undefined) known.set(book.tree, (lines = lineMap(book.text)));
  return lines;
}

export function positionAt(lines: LineMap, offset: number): Position {
  const { line, column } = lines.position(offset);
  return { line: line - 1, character: column - 1 };
}

export function linesAt(lines: LineMap, { start, end }: Range): Lines {
  return { start: positionAt(lines, start), end: positionAt(lines, end) };
}

/** What lies beyond the end of a line is its end, as the protocol has it. */
export function offsetAt(lines: LineMap, { line, character }: Position): number {
  const start = lines.offset({ line: line + 1, column: 1 });
  return line < 0 ? 0 : start + Math.min(Math.max(character, 0), lines.line(line + 1).length);
}

export function rangeAt(lines: LineMap, { start, end }: Lines): Range {
  const [from, to] = [offsetAt(lines, start), offsetAt(lines, end)];
  return { start: Math.min(from, to), end: Math.max(from, to) };
}

export function locationOf({ path, range }: Place, { uriOf, linesOf }: PositionsIn): Location[] {
  const lines = linesOf(path);
  return lines === undefined ? [] : [{ uri: uriOf(path), range: linesAt(lines, range) }];
}

export function textEdit(lines: LineMap, { range, text }: Pick<Edit, "range" | "text">): TextEdit {
  return { range: linesAt(lines, range), newText: text };
}

/** Undefined where an edit is of a book that is not at hand: half a change is none. */
export function workspaceEdit(edits: readonly Edit[], { uriOf, linesOf }: PositionsIn): WorkspaceEdit | undefined {
  const changes: Record<string, TextEdit[]> = {};
  for (const edit of edits) {
    const lines = linesOf(edit.path);
    if (lines === undefined) return undefined;
    (changes[uriOf(edit.path)] ??= []).push(textEdit(lines, edit));
  }
  return { changes };
}

/** What a client can show of a diagnostic. */
interface DiagnosticSupport {
  readonly related: boolean;
  readonly page: boolean;
  readonly tags: boolean;
}

export interface DiagnosticOptions {
  readonly supports: DiagnosticSupport;
  readonly severities: Readonly<Partial<Record<Code, Severity | "off">>>;
  readonly hintPage: (code: Code) => string | undefined;
}

const grades: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};
/** Text that could as well not be there. */
const idle: ReadonlySet<Code> = new Set(["does-nothing", "changes-nothing"]);

/** None for one that is switched off. */
export function diagnosticOf(finding: Finding, places: PositionsIn, { supports, severities, hintPage }: DiagnosticOptions): Diagnostic[] {
  const severity = severities[finding.code] ?? finding.severity;
  const [location] = locationOf(finding, places);
  if (severity === "off" || location === undefined) return [];
  const href = supports.page ? hintPage(finding.code) : undefined;
  const related = supports.related
    ? (finding.related ?? []).flatMap(({ message, ...place }) => locationOf(place, places).map((one) => ({ location: one, message })))
    : [];
  return [
    {
      range: location.range,
      severity: grades[severity],
      code: finding.code,
      ...(href !== undefined && { codeDescription: { href } }),
      source: "waterlore",
      message: messageOf(finding),
      ...(supports.tags && idle.has(finding.code) && { tags: [DiagnosticTag.Unnecessary] }),
      ...(related.length > 0 && { relatedInformation: related }),
      data: { pick: finding.pick, patterns: finding.patterns, where: finding.where },
    },
  ];
}

/** A headline, what it means here, what to do next. */
export function messageOf({ title, message, help }: Finding): string {
  return [title, message, help].filter((sentence) => sentence !== "").join("\n");
}
