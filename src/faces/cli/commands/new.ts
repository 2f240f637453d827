/** `waterlore new`: a small book to start from. */
import { notes, refusals, starter } from "../../../messages/cli.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { shownPath } from "../../node/paths.js";
import { note } from "../../node/streams.js";
import { createText } from "../../node/write.js";

export function newBook(file: string): ExitCode {
  if (!file.endsWith(".lore")) throw new CannotRun(refusals.noLore(file));
  const problem = createText(file, starter);
  if (problem !== undefined) throw new CannotRun(refusals.cannotWrite(shownPath(file), problem));
  note(notes.created(shownPath(file)));
  return 0;
}
