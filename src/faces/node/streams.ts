/** Data to standard output, notes to standard error. */
import { harmless } from "./terminal.js";

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
