/** What was found, as it is reported: sorted into what counts and what is known, with what could not even be read. */
import type { Finding, Place, Severity } from "../../diagnostics.js";
import { notes } from "../../messages/ci.js";
import { report as say } from "../../messages/cli.js";
import { countOf, type Checked, type Found } from "./checked.js";
import type { WeighedBy } from "./days.js";

export interface Report extends Checked {
  /** Findings of a baseline: not counted. */
  readonly known: readonly Found[];
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

/** How many books, and how much was found in them. */
export function summaryOf(report: Report): string {
  const summary = say.summary(report.books.length, countOf(report), report.undecided.length);
  return report.known.length === 0 ? summary : `${summary} ${notes.known(report.known.length)}`;
}
