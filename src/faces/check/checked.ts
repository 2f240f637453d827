/**
 * Several books checked, each with all that it builds on, as one result.
 *
 *     roots  a.lore  b.lore      both build on c.lore: what is found in c is reported once
 */
import type { Finding, Severity } from "../../diagnostics.js";
import type { Read } from "../../model/books.js";
import { inOneText } from "../../same-finding.js";
import { byText, lineMap, type LineMap } from "../../text.js";
import type { Cache } from "../node/cache.js";
import type { Progress } from "../node/progress.js";
import type { Source } from "../node/source.js";
import type { BookOrder, CheckBookOptions, CheckedBook, Coverage } from "./check-book.js";

export interface Checked {
  readonly books: readonly { readonly path: string; readonly title: string; readonly whole: boolean; readonly order: BookOrder }[];
  /** By path, place and code. */
  readonly findings: readonly RootedFinding[];
  readonly coverage: readonly BookCoverage[];
  readonly undecided: readonly { readonly book: string; readonly what: string }[];
  /** Every book that was read, by its path. */
  readonly texts: ReadonlyMap<string, Text>;
}

export interface RootedFinding extends Finding {
  /** The book that was checked when it was found. */
  readonly root: string;
}

export interface BookCoverage extends Coverage {
  readonly book: string;
}

interface Text {
  readonly text: string;
  readonly lines: LineMap;
}

export interface HowToCheck extends CheckBookOptions {
  readonly cache?: Cache<CheckedBook>;
  readonly progress?: Progress;
}

/** The checker itself is loaded for the first book that has to be worked out: where all are as they were, none of it is needed. */
export async function checkBooks(roots: readonly Source[], read: Read, { cache, progress, ...how }: HowToCheck): Promise<Checked> {
  const checked: CheckedBook[] = [];
  for (const [at, source] of roots.entries()) {
    progress?.book(at + 1, roots.length, source.path);
    const kept = cache?.find(source, read, how);
    if (kept) checked.push(kept);
    else {
      const { checkBook } = await import("./check-book.js");
      const record = cache?.record(source, read, how);
      const book = checkBook(source, record?.read ?? read, { ...how, tick: progress?.tick });
      record?.keep(book);
      checked.push(book);
    }
  }
  progress?.done();
  return joined(checked, textsOf(checked, roots, read));
}

/** How many findings there are of each severity. */
export function countOf({ findings }: { readonly findings: readonly Finding[] }): Readonly<Record<Severity, number>> {
  const count = (severity: Severity): number => findings.filter((finding) => finding.severity === severity).length;
  return { error: count("error"), warning: count("warning"), note: count("note") };
}

function joined(checked: readonly CheckedBook[], texts: Checked["texts"]): Checked {
  const found = new Map<string, RootedFinding>();
  for (const { path, findings } of checked) {
    for (const finding of findings) {
      const key = inOneText(finding);
      const same = found.get(key);
      // Of two that differ in their shares only, the one that the book itself gives.
      if (same === undefined || (same.root !== finding.path && path === finding.path)) found.set(key, { ...finding, root: path });
    }
  }
  return {
    books: checked.map(({ path, title, whole, order }) => ({ path, title, whole, order })),
    findings: [...found.values()].sort(byPlace),
    coverage: checked.flatMap(({ path, coverage }) => coverage.map((pick) => ({ book: path, ...pick }))),
    undecided: checked.flatMap(({ path, undecided }) => undecided.map((what) => ({ book: path, what }))),
    texts,
  };
}

function textsOf(checked: readonly CheckedBook[], roots: readonly Source[], read: Read): Checked["texts"] {
  const given = new Map(roots.map(({ path, text }) => [path, text]));
  const texts = new Map<string, Text>();
  for (const path of checked.flatMap((book) => book.read)) {
    if (texts.has(path)) continue;
    const opened = given.has(path) ? { text: given.get(path)! } : read(path);
    if ("text" in opened) texts.set(path, { text: opened.text, lines: lineMap(opened.text) });
  }
  return texts;
}

function byPlace(a: Finding, b: Finding): number {
  return (
    byText(a.path, b.path) ||
    a.range.start - b.range.start ||
    a.range.end - b.range.end ||
    byText(a.code, b.code) ||
    byText(a.message, b.message)
  );
}
