/** `waterlore format`: books in their usual shape, each written in one step. */
import { commandNotes, commandRefusals } from "../../../messages/cli.js";
import { format } from "../../../syntax/print.js";
import type { ExitCode } from "../../node/exit.js";
import { findBooks } from "../../node/find-books.js";
import { STDIN } from "../../node/read.js";
import { openBook, type StdinOption } from "../../node/source.js";
import { note, print } from "../../node/streams.js";
import { harmless } from "../../node/terminal.js";
import { replaceText } from "../../node/write.js";

export interface FormatOptions extends StdinOption {
  readonly check?: boolean;
}

export async function formatCommand(paths: readonly string[], options: FormatOptions): Promise<ExitCode> {
  const { books, missing } = await findBooks(paths);
  for (const { path, problem } of missing) note(commandRefusals.cannotRead(path, problem));
  let failed = missing.length > 0;
  let changed = 0;
  for (const path of books) {
    const opened = openBook(path, options);
    if ("problem" in opened) {
      failed = true;
      note(opened.problem);
      continue;
    }
    const shaped = format(opened.text);
    const differs = shaped !== opened.text;
    if (path === STDIN && !options.check) print(shaped);
    if (!differs) continue;
    if (options.check) print(harmless(commandNotes.wouldFormat(opened.path)));
    else if (path !== STDIN) {
      const problem = replaceText(path, opened.text, shaped);
      note(problem === undefined ? commandNotes.formatted(opened.path) : commandRefusals.cannotWrite(opened.path, problem));
      if (problem !== undefined) {
        failed = true;
        continue;
      }
    }
    changed++;
  }
  if (books.length > 0 && !books.includes(STDIN))
    note(options.check ? commandNotes.formatCheckSummary(changed, books.length) : commandNotes.formatSummary(changed, books.length));
  return failed ? 2 : options.check && changed > 0 ? 1 : 0;
}
