/** What every command works with: data to standard output, notes to standard error, and one way to say that it cannot run. */
import { notes, refusals } from "../../messages/cli.js";
import { readBook, STDIN, tidyPath } from "../node/files.js";
import type { Source } from "../check/check-book.js";
import { harmless } from "./terminal.js";

/** 0 nothing at or above the asked severity, 1 something was found, 2 could not run. */
export type ExitCode = 0 | 1 | 2;

/** Ends a command with exit code 2; the message is a sentence for the user. */
export class CannotRun extends Error {}

export function print(text: string): void {
  process.stdout.write(text);
}

/** Standard output for what is too long to hold: each piece waits until the one before has been taken. */
export function output(): { readonly begun: () => boolean; readonly write: (text: string) => Promise<boolean> } {
  let begun = false;
  const { stdout } = process;
  return {
    begun: () => begun,
    /** False where nobody reads any more. */
    write: async (text) => {
      begun = true;
      if (!stdout.writable) return false;
      if (!stdout.write(text))
        await new Promise<void>((taken) => {
          const done = (): void => {
            for (const event of events) stdout.off(event, done);
            taken();
          };
          const events = ["drain", "error", "close"] as const;
          for (const event of events) stdout.on(event, done);
        });
      return stdout.writable;
    },
  };
}

export function note(sentence: string): void {
  process.stderr.write(`${harmless(sentence)}\n`);
}

export interface StdinOption {
  readonly stdinPath?: string;
}

/** A book's text by the path it is shown under; a sentence if it cannot be read. */
export function openBook(path: string, { stdinPath }: StdinOption): Source | { readonly problem: string } {
  const shown = path === STDIN ? tidyPath(stdinPath ?? "stdin.lore") : tidyPath(path);
  const opened = readBook(path);
  return "text" in opened
    ? { path: shown, text: opened.text }
    : { problem: refusals.cannotRead(path === STDIN ? notes.stdin : shown, opened.problem) };
}

/** The day given with `--on`, checked; today, where the machine is, if none was. */
export function dayOf(on: string | undefined, now = new Date()): string {
  if (on === undefined)
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  if (!isDay(on)) throw new CannotRun(refusals.wrongDate(on));
  return on;
}

/** Is it a day of the calendar, written `2027-04-15`? */
export function isDay(text: string): boolean {
  const day = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00Z`) : undefined;
  return day !== undefined && !Number.isNaN(day.valueOf()) && day.toISOString().slice(0, 10) === text;
}

export function stepsOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (!/^[1-9]\d{0,14}$/.test(text)) throw new CannotRun(refusals.wrongSteps(text));
  return Number(text);
}
