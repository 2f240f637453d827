/** A book that a command is given: its text, and the path that it is shown under. */
import { commandNotes, commandRefusals } from "../../messages/cli.js";
import { shownPath } from "./paths.js";
import { readBook, STDIN } from "./read.js";

export interface Source {
  readonly path: string;
  readonly text: string;
}

export interface StdinOption {
  readonly stdinPath?: string;
}

/** A book's text by the path it is shown under; a sentence if it cannot be read. */
export function openBook(path: string, { stdinPath }: StdinOption): Source | { readonly problem: string } {
  const shown = shownPath(path === STDIN ? (stdinPath ?? "stdin.lore") : path);
  const opened = readBook(path);
  return "text" in opened ? { path: shown, text: opened.text } : { problem: commandRefusals.cannotRead(nameOf(path), opened.problem) };
}

/** What a file is called in sentences. */
export function nameOf(path: string): string {
  return path === STDIN ? commandNotes.stdin : shownPath(path);
}
