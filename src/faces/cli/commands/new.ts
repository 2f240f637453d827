/** `waterlore new`: a small book to start from. */
import { notes, refusals, starter } from "../../../messages/cli.js";
import { CannotRun, note, type ExitCode } from "../command.js";
import { createText, tidyPath } from "../../node/files.js";

export function newBook(file: string): ExitCode {
  if (!file.endsWith(".lore")) throw new CannotRun(refusals.noLore(file));
  const problem = createText(file, starter);
  if (problem !== undefined) throw new CannotRun(refusals.cannotWrite(tidyPath(file), problem));
  note(notes.created(tidyPath(file)));
  return 0;
}
