/**
 * Books with the expected findings written under the places they mark:
 *
 *   go with blade
 *           ^^^^^ syntax: an option
 *
 * A line of blanks and `^`, then a code, a colon and part of what the finding says (title, message or help; capitals do not matter)
 * belongs to the nearest line of the book above it. Each `^` marks one column; a place that goes on beyond its line is marked to the
 * line's end and then by `…`.
 */
import { expect } from "vitest";
import type { Finding } from "../src/diagnostics.js";
import { lineMap } from "../src/text.js";

export interface Mark {
  readonly code: string;
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly goesOn: boolean;
  readonly words: string;
}

const markLine = /^( *)(\^+)(…?) ([a-z-]+): (.*)$/;

/** The book without its marks, and the marks. */
export function readMarks(marked: string): { readonly text: string; readonly marks: readonly Mark[] } {
  const book: string[] = [];
  const marks: Mark[] = [];
  for (const line of marked.split("\n")) {
    const found = markLine.exec(line);
    if (found === null) book.push(line);
    else
      marks.push({
        line: book.length,
        column: found[1]!.length + 1,
        length: found[2]!.length,
        goesOn: found[3] !== "",
        code: found[4]!,
        words: found[5]!.trim(),
      });
  }
  return { text: book.join("\n"), marks };
}

/** Checks that a book has just the findings marked in it: code, place and words. */
export function expectMarked(marked: string, find: (text: string) => readonly Finding[]): void {
  const { text, marks } = readMarks(marked);
  const findings = find(text);
  const map = lineMap(text);
  const seen = findings.map((finding): Mark => {
    const start = map.position(finding.range.start);
    const end = map.position(finding.range.end);
    const goesOn = end.line > start.line;
    const length = goesOn ? map.line(start.line).length + 1 - start.column : end.column - start.column;
    return {
      code: finding.code,
      line: start.line,
      column: start.column,
      length,
      goesOn,
      words: `${finding.title}. ${finding.message} ${finding.help}`,
    };
  });
  const left = [...seen];
  const missing = marks.filter((mark) => {
    const i = left.findIndex((one) => samePlace(one, mark) && one.words.toLowerCase().includes(mark.words.toLowerCase()));
    if (i >= 0) left.splice(i, 1);
    return i < 0;
  });
  if (missing.length > 0 || left.length > 0) expect.fail(`Expected\n${show(text, missing)}\nbut found\n${show(text, left)}`);
}

function samePlace(a: Mark, b: Mark): boolean {
  return a.code === b.code && a.line === b.line && a.column === b.column && a.length === b.length && a.goesOn === b.goesOn;
}

function show(text: string, marks: readonly Mark[]): string {
  const lines = text.split("\n");
  return (
    marks
      .map(
        (mark) =>
          `${lines[mark.line - 1] ?? ""}\n${" ".repeat(mark.column - 1)}${"^".repeat(mark.length)}${mark.goesOn ? "…" : ""} ${mark.code}: ${mark.words}`,
      )
      .join("\n") || "nothing"
  );
}
