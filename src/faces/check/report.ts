/** What was found, as it is reported: sorted into what counts and what is known, with what could not even be read. */
import type { Finding, Place, Severity } from "../../diagnostics.js";
import { checkNotes } from "../../messages/ci.js";
import { terminalWords } from "../../messages/cli.js";
import type { Position } from "../../text.js";
import { countOf, type Checked, type RootedFinding } from "./checked.js";
import type { WeighedBy } from "./days.js";

export interface Report extends Checked {
  /** Findings of a baseline: not counted. */
  readonly known: readonly RootedFinding[];
  /** Whether there is a baseline. */
  readonly baseline: boolean;
  /** Books that could not be opened, with a sentence that says why. */
  readonly unreadable: readonly { readonly path: string; readonly sentence: string }[];
  /** The log that weighed the coverage, if one was given. */
  readonly log?: WeighedBy;
  /** The lowest kind of finding that counts. */
  readonly lowest: Severity;
}

const ranks: Readonly<Record<Severity, number>> = { error: 2, warning: 1, note: 0 };

export function counts({ severity }: Finding, lowest: Severity): boolean {
  return ranks[severity] >= ranks[lowest];
}

/** `rules/blades.lore:8:9` */
export function placeOf({ path, range }: Place, { texts }: Checked): string {
  const at = texts.get(path)?.lines.position(range.start);
  return at === undefined ? path : `${path}:${at.line}:${at.column}`;
}

/** From and to which line and column it goes, in a book that was read. */
export function linesOf({ path, range }: Place, { texts }: Pick<Checked, "texts">): { readonly start: Position; readonly end: Position } {
  const { position } = texts.get(path)!.lines;
  return { start: position(range.start), end: position(range.end) };
}

/** How many books, and how much was found in them. */
export function summaryOf(report: Report): string {
  const summary = terminalWords.summary(report.books.length, countOf(report), report.undecided.length);
  return report.known.length === 0 ? summary : `${summary} ${checkNotes.known(report.known.length)}`;
}
