/** What is being checked, on a terminal, once it takes long: one line that is written over and goes away. */
import { checkNotes } from "../../messages/ci.js";
import { signsOf, widthOf } from "../../render/columns.js";
import { harmless } from "./terminal.js";

export interface Progress {
  book(at: number, all: number, path: string): void;
  tick(): void;
  done(): void;
}

export interface Screen {
  readonly isTTY?: boolean;
  readonly columns?: number;
  write(text: string): unknown;
}

/** Shorter work needs no word; more often nobody can read it. Milliseconds. */
const LONG = 700;
const OFTEN = 250;

/** None where nobody looks: in a pipe, in a file, on a terminal that cannot go back in a line. */
export function progressOn(
  screen: Screen,
  env: NodeJS.ProcessEnv = process.env,
  now: () => number = () => performance.now(),
): Progress | undefined {
  if (screen.isTTY !== true || env["TERM"] === "dumb") return undefined;
  const begun = now();
  let current: readonly [at: number, all: number, path: string] | undefined;
  let since = begun;
  let last = -Infinity;
  let shown = false;
  const show = (): void => {
    const time = now();
    if (current === undefined || time - begun < LONG || time - last < OFTEN) return;
    last = time;
    shown = true;
    screen.write(
      `\r${cut(harmless(checkNotes.checking(...current, Math.floor((time - since) / 1000))), (screen.columns || 80) - 1)}\u001b[K`,
    );
  };
  return {
    book(...book) {
      current = book;
      since = now();
      show();
    },
    tick: show,
    done() {
      if (shown) screen.write("\r\u001b[K");
      shown = false;
    },
  };
}

function cut(line: string, width: number): string {
  let shown = "";
  for (const sign of signsOf(line)) {
    if (widthOf(shown) + widthOf(sign) > width) break;
    shown += sign;
  }
  return shown;
}
