/**
 * Known findings: what a shop has seen and lives with for now, so that only what is new counts.
 *
 *     found now    A  A  B  C                  known.json    A ×1  B  D
 *     ──▶  known: A, B     new: A, C     gone: D
 *
 * Known is what is alike in all that stays when a book is moved about and put into shape (`editionKey`). An entry is gone only if
 * its book was checked and read as a whole: half a book, or another book, proves nothing.
 */
import { existsSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { checkNotes, checkRefusals } from "../../messages/ci.js";
import { commandRefusals } from "../../messages/cli.js";
import { editionKey, keyText, type EditionKey } from "../../same-finding.js";
import { byText } from "../../text.js";
import { CannotRun } from "../node/exit.js";
import { shownPath, slashed } from "../node/paths.js";
import { readText } from "../node/read.js";
import { validatorOf } from "../node/schemas.js";
import { note } from "../node/streams.js";
import { saveText } from "../node/write.js";
import type { Checked, RootedFinding } from "./checked.js";

export interface Known extends EditionKey {
  /** The book that was checked when it was found, if not the one it is in. */
  readonly book?: string;
  readonly count?: number;
}

export interface Sorted {
  /** Those that count. */
  readonly findings: readonly RootedFinding[];
  readonly known: readonly RootedFinding[];
  /** Entries that no longer occur, as often as they do not. */
  readonly gone: readonly Known[];
  /** What a file would hold that knows everything found now. */
  readonly entries: readonly Known[];
}

interface Baseline {
  readonly format: "waterlore-baseline";
  readonly version: 1;
  readonly findings: readonly Known[];
}

/** The entries of a file of known findings; ends the command if it is none. A file that is to be written need not be there. */
export async function readBaseline(file: string, { orNone }: { readonly orNone: boolean }): Promise<readonly Known[]> {
  const shown = shownPath(file);
  if (!existsSync(file)) {
    if (orNone) return [];
    throw new CannotRun(checkRefusals.missingBaseline(shown));
  }
  const opened = readText(file);
  if ("problem" in opened) throw new CannotRun(commandRefusals.cannotRead(shown, opened.problem));
  const validate = await validatorOf<Baseline>("baseline");
  let value: unknown;
  try {
    value = JSON.parse(opened.text.replace(/^\ufeff/, ""));
  } catch {
    throw new CannotRun(checkRefusals.noBaseline(shown));
  }
  if (!validate(value)) throw new CannotRun(checkRefusals.noBaseline(shown));
  return value.findings;
}

/** Parts what is found into known and new. Paths of entries are seen from the folder of `file`. */
export function sortOut({ books, findings, texts }: Checked, known: readonly Known[], file: string): Sorted {
  const folder = dirname(resolve(file));
  const seen = (path: string): string => slashed(relative(folder, resolve(path)));
  const keys = new Map(
    findings.map((finding) => [finding, { ...editionKey(finding, texts.get(finding.path)?.text ?? ""), path: seen(finding.path) }]),
  );
  const entries = together(known);
  const left = new Map(entries.map((entry) => [keyText(entry), entry.count ?? 1]));
  const [fresh, old]: [RootedFinding[], RootedFinding[]] = [[], []];
  for (const finding of findings) {
    const key = keyText(keys.get(finding)!);
    const count = left.get(key) ?? 0;
    left.set(key, count - 1);
    (count > 0 ? old : fresh).push(finding);
  }
  const whole = new Map(books.map((book) => [seen(book.path), book.whole]));
  const judged = ({ book, path }: Known): boolean => whole.get(book ?? path) ?? !existsSync(join(folder, book ?? path));
  const missing = entries
    .map((entry) => [entry, left.get(keyText(entry))!] as const)
    .filter(([, count]) => count > 0)
    .map(([entry, count]) => counted(entry, count));
  const now = findings.map((finding): Known => {
    const root = seen(finding.root);
    const key = keys.get(finding)!;
    return root === key.path ? key : { ...key, book: root };
  });
  return {
    findings: fresh,
    known: old,
    gone: missing.filter(judged),
    entries: together([...missing.filter((entry) => !judged(entry)), ...now]),
  };
}

/** Says which entries no longer occur. */
export function noteGone(gone: readonly Known[], file: string): void {
  if (gone.length > 0) note(checkNotes.gone(shownPath(file), gone.map(checkNotes.entry)));
}

/** Writes what is known now, the same bytes for the same entries; ends the command if it cannot. */
export function writeBaseline(file: string, { entries, gone }: Sorted): void {
  const baseline: Baseline = { format: "waterlore-baseline", version: 1, findings: entries };
  const problem = saveText(file, `${JSON.stringify(baseline, null, 2)}\n`);
  if (problem !== undefined) throw new CannotRun(commandRefusals.cannotWrite(shownPath(file), problem));
  note(checkNotes.wrote(shownPath(file), total(entries), total(gone)));
}

/** Like entries as one, in order. */
function together(entries: readonly Known[]): readonly Known[] {
  const alike = new Map<string, Known>();
  for (const entry of entries) {
    const same = alike.get(keyText(entry));
    alike.set(keyText(entry), same === undefined ? entry : counted(same, (same.count ?? 1) + (entry.count ?? 1)));
  }
  return [...alike].sort(([a], [b]) => byText(a, b)).map(([, entry]) => entry);
}

function counted({ count: _, ...entry }: Known, count: number): Known {
  return count > 1 ? { ...entry, count } : entry;
}

function total(entries: readonly Known[]): number {
  return entries.reduce((sum, { count = 1 }) => sum + count, 0);
}
