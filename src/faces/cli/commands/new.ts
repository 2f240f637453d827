/** `waterlore new`: a small book to start from. */
import { commandNotes, commandRefusals, starter } from "../../../messages/cli.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { shownPath } from "../../node/paths.js";
import { note } from "../../node/streams.js";
import { createText } from "../../node/write.js";

export function newCommand(file: string): ExitCode {
  if (!file.endsWith(".lore")) throw new CannotRun(commandRefusals.noLore(file));
  const problem = createText(file, starter);
  if (problem !== undefined) throw new CannotRun(commandRefusals.cannotWrite(shownPath(file), problem));
  note(commandNotes.created(shownPath(file)));
  return 0;
}
