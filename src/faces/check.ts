/** `waterlore check`: what is wrong in books. */
import type { Severity } from "../diagnostics.js";
import { notes, refusals } from "../messages/cli.js";
import { checkBooks, countOf, type Checked, type Source } from "./checked.js";
import { CannotRun, dayOf, note, openBook, print, stepsOf, type ExitCode, type StdinOption } from "./command.js";
import { findBooks, reader, replaceText, STDIN } from "./files.js";
import { checkJson } from "./findings-json.js";
import { checkText } from "./findings-text.js";
import { mend } from "./mend.js";
import { terminalOf } from "./terminal.js";

export interface CheckOptions extends StdinOption {
  readonly format: "text" | "json";
  readonly severity: Severity;
  readonly on?: string;
  readonly steps?: string;
  readonly coverage?: boolean;
  readonly fix?: boolean;
}

export async function check(paths: readonly string[], options: CheckOptions): Promise<ExitCode> {
  const how = { on: dayOf(options.on), steps: stepsOf(options.steps) };
  if (options.fix && paths.includes(STDIN)) throw new CannotRun(refusals.fixStdin);
  const { books, missing } = await findBooks(paths);
  for (const { path, problem } of missing) note(refusals.cannotRead(path, problem));
  const sources: Source[] = [];
  let unreadable = missing.length;
  for (const path of books) {
    const opened = openBook(path, options);
    if ("problem" in opened) {
      unreadable++;
      note(opened.problem);
    } else sources.push(opened);
  }
  if (sources.length === 0) return 2;
  const mended = options.fix ? mendAll(sources) : sources;
  const checked = checkBooks(mended, reader(), how);
  print(options.format === "json" ? checkJson(checked) : checkText(checked, terminalOf(process.stdout), { coverage: options.coverage ?? false }));
  return unreadable > 0 ? 2 : hasAny(checked, options.severity) ? 1 : 0;
}

/** Books as they are after mending, each written back; one that cannot be written stays as it was. */
function mendAll(sources: readonly Source[]): readonly Source[] {
  let made = 0;
  const mended = sources.map((source) => {
    const { text, changes } = mend(source, reader());
    if (changes.length === 0) return source;
    const problem = replaceText(source.path, text);
    if (problem !== undefined) {
      note(refusals.cannotWrite(source.path, problem));
      return source;
    }
    for (const { line, title } of changes) note(notes.fixed(source.path, line, title));
    made += changes.length;
    return { ...source, text };
  });
  note(notes.fixedSummary(made));
  return mended;
}

function hasAny(checked: Checked, lowest: Severity): boolean {
  const counts = countOf(checked);
  return counts.error > 0 || (lowest !== "error" && counts.warning > 0) || (lowest === "note" && counts.note > 0);
}
