/** Texts, and places in them. Offsets count UTF-16 units from 0; lines and columns, for people, count from 1. */

/** A text that was asked for, or why it cannot be had, as the end of a sentence: "there is no such file". */
export type Opened = { readonly text: string } | { readonly problem: string };

/** Characters of a book: some hundred times what a shop writes down, and little enough to be read while someone waits. */
export const longestBook = 2_000_000;

/** A stretch of one text: from `start` up to but not including `end`. */
export interface Range {
  readonly start: number;
  readonly end: number;
}

/** A place for people: both count from 1, columns in UTF-16 units. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Less than 0 where `a` comes first: the same order everywhere, whatever the language of the machine. */
export function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Where a quoted text stands without its quotes, of which the second may be missing; what has none, as it is. */
export function insideQuotes(text: string, { start, end }: Range): Range {
  const inside = start + (/["“„]/.test(text[start] ?? "") ? 1 : 0);
  return { start: inside, end: Math.max(inside, end - (/["“”]/.test(text[end - 1] ?? "") ? 1 : 0)) };
}

/** Turns offsets of one text into lines and columns and back. Lines end at `\n`, `\r\n` or `\r`. */
export interface LineMap {
  readonly lineStarts: readonly number[];
  position(offset: number): Position;
  offset(position: Position): number;
  /** The text of a line (from 1), without its ending. */
  line(line: number): string;
}

export function lineMap(text: string): LineMap {
  const lineStarts = [0];
  for (const match of text.matchAll(/\r\n|\n|\r/g)) lineStarts.push(match.index + match[0].length);
  const position = (offset: number): Position => {
    let low = 0;
    let high = lineStarts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (lineStarts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - lineStarts[low]! + 1 };
  };
  return {
    lineStarts,
    position,
    offset: ({ line, column }) => Math.min(text.length, (lineStarts[line - 1] ?? text.length) + column - 1),
    line: (line) => text.slice(lineStarts[line - 1] ?? text.length, lineStarts[line] ?? text.length).replace(/[\r\n]+$/, ""),
  };
}
