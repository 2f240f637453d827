/**
 * Text for a terminal: how wide it is, whether it has colors, and words set into its lines.
 *
 * Width is counted in cells of the terminal, as for tables. What comes out of a book is made harmless first: a control character in
 * a title must not drive the terminal.
 */
import picocolors from "picocolors";
import { signsOf, widthOf } from "../../render/columns.js";

export type Colors = ReturnType<typeof picocolors.createColors>;

export interface Terminal {
  readonly width: number;
  readonly colors: Colors;
}

const UNKNOWN_WIDTH = 80;
/** Longer lines are hard to read, whatever the window. */
const WIDEST = 100;
const NARROWEST = 40;
const TAB = 4;

export function terminalOf(
  stream: { readonly isTTY?: boolean; readonly columns?: number },
  env: NodeJS.ProcessEnv = process.env,
): Terminal {
  const width = stream.columns ?? UNKNOWN_WIDTH;
  return { width: Math.min(WIDEST, Math.max(NARROWEST, width)), colors: picocolors.createColors(hasColors(stream, env)) };
}

/** Characters that would move the cursor, change colors or turn the reading direction: all but line ends and tabs. */
const harmful = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;

/** Without characters that would drive the terminal. */
export function harmless(text: string): string {
  return text.replace(harmful, "\ufffd");
}

/** JSON (RFC 8259) in which such characters are written as escapes, all of them. Ends in a line break. */
export function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2).replace(harmful, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`)}\n`;
}

/** Every tab as blanks up to the next stop. */
export function untabbed(text: string): string {
  let line = "";
  for (const part of text.split(/(\t)/)) line += part === "\t" ? " ".repeat(TAB - (widthOf(line) % TAB)) : part;
  return line;
}

/** Words set into lines; those after the first start as far in as `indent`, which also opens the first unless `first` does. */
export function wrap(text: string, width: number, indent = "", first = indent): string {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of harmless(text).split(/[ \t\n]+/)) {
    if (word === "") continue;
    if (!empty && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line);
      line = indent;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  lines.push(line);
  return lines.join("\n");
}

/** A line and the marks below it; a long line is cut to what is around the marked stretch. Columns count UTF-16 units from 0. */
export function marked(line: string, from: number, to: number, width: number): { readonly line: string; readonly marks: string } {
  const first = Math.max(0, from - REACH * width);
  const last = from + REACH * width;
  if (first > 0 || last < line.length) return marked(line.slice(first, last), from - first, Math.min(to, last) - first, width);
  const before = untabbed(harmless(line.slice(0, from)));
  const through = untabbed(harmless(line.slice(0, to)));
  const whole = untabbed(harmless(line));
  const start = widthOf(before);
  const length = Math.max(1, widthOf(through) - start);
  if (widthOf(whole) <= width) return { line: whole, marks: " ".repeat(start) + "^".repeat(length) };
  const skip = start + Math.min(length, width - 2 * ROOM) + ROOM <= width ? 0 : start - ROOM;
  const left = skip > 0 ? "…" : "";
  const shown = cells(whole, skip + left.length, width - left.length - 1);
  const right = skip + width < widthOf(whole) ? "…" : "";
  return { line: left + shown + right, marks: " ".repeat(start - skip) + "^".repeat(Math.min(length, width - (start - skip))) };
}

/** How much of a cut line is kept to the left of what is marked. */
const ROOM = 12;

/** So many window widths of a line are looked at on either side; there are lines of a million characters. */
const REACH = 10;

/** The part of a text from one cell on, at most so many cells. */
function cells(text: string, from: number, length: number): string {
  let at = 0;
  let part = "";
  for (const sign of signsOf(text)) {
    const width = widthOf(sign);
    if (at >= from && at + width <= from + length) part += sign;
    at += width;
  }
  return part;
}

function hasColors(stream: { readonly isTTY?: boolean }, env: NodeJS.ProcessEnv): boolean {
  if (env["NO_COLOR"]) return false;
  const forced = env["FORCE_COLOR"];
  if (forced !== undefined) return forced !== "0" && forced !== "false";
  return stream.isTTY === true && env["TERM"] !== "dumb";
}
