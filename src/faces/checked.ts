/**
 * Several books checked, each with all that it builds on, as one result.
 *
 *     roots  a.lore  b.lore      both build on c.lore: what is found in c is reported once
 *
 * Like all faces it imports the stages one by one and not through `index.ts`: a command should load only what it runs.
 */
import { analyse } from "../analysis/analyse.js";
import type { Status } from "../analysis/outcome.js";
import type { Finding, Severity } from "../diagnostics.js";
import { resolve, type Read } from "../model/resolve.js";
import { parse } from "../syntax/parse.js";
import { lineMap, type LineMap } from "../text.js";
import { byText } from "./files.js";

export interface Source {
  readonly path: string;
  readonly text: string;
}

export interface Checked {
  readonly books: readonly { readonly path: string; readonly title: string }[];
  /** By path, place and code. */
  readonly findings: readonly Finding[];
  readonly coverage: readonly PickCoverage[];
  /** What a budget left open, in sentences; each has its finding too. */
  readonly undecided: readonly { readonly book: string; readonly what: string }[];
  /** Lines of every book that was read. */
  readonly lines: ReadonlyMap<string, LineMap>;
}

export interface PickCoverage {
  readonly book: string;
  readonly pick: string;
  readonly judgement: boolean;
  readonly shares: Readonly<Record<Status, { valueOf(): number; toFraction(): string }>>;
}

export interface CheckOptions {
  readonly on: string;
  readonly steps?: number;
}

export function checkBooks(roots: readonly Source[], read: Read, { on, steps }: CheckOptions): Checked {
  const found = new Map<string, { readonly root: string; readonly finding: Finding }>();
  const lines = new Map<string, LineMap>();
  const books: Checked["books"][number][] = [];
  const coverage: PickCoverage[] = [];
  const undecided: Checked["undecided"][number][] = [];
  for (const { path, text } of roots) {
    const { model, findings } = resolve(parse(text, path), read, { on });
    const analysis = analyse(model, { steps });
    books.push({ path, title: model.books.at(-1)!.title });
    for (const book of model.books) if (!lines.has(book.path)) lines.set(book.path, lineMap(book.text));
    for (const finding of [...findings, ...analysis.findings]) {
      const same = found.get(identity(finding));
      // Of two that differ in their shares only, the one that the book itself gives.
      if (same === undefined || (same.root !== finding.path && path === finding.path)) found.set(identity(finding), { root: path, finding });
    }
    for (const { pick, shares } of analysis.coverage) coverage.push({ book: path, pick: model.picks[pick]!.name, judgement: model.picks[pick]!.judgement, shares });
    for (const what of analysis.undecided) undecided.push({ book: path, what });
  }
  return { books, findings: [...found.values()].map(({ finding }) => finding).sort(byPlace), coverage, undecided, lines };
}

/** How many findings there are of each severity. */
export function countOf({ findings }: Pick<Checked, "findings">): Readonly<Record<Severity, number>> {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  return { error: count("error"), warning: count("warning"), note: count("note") };
}

function identity({ code, path, range, title, pick, patterns, where, message }: Finding): string {
  return JSON.stringify([code, path, range.start, range.end, title, pick, patterns, where ?? message]);
}

function byPlace(a: Finding, b: Finding): number {
  return byText(a.path, b.path) || a.range.start - b.range.start || a.range.end - b.range.end || byText(a.code, b.code) || byText(a.message, b.message);
}
