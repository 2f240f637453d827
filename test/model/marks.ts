/**
 * Expectations under the text they are about:
 *
 *     when clarity is mudy
 *                     ^^^^ name: clarity can not be mudy
 *
 * A finding is marked where it begins, to the end of its line at most.
 */
import type { Finding } from "../../src/diagnostics.js";
import { lineMap } from "../../src/text.js";

const mark = /^ *\^+ [a-z-]+: /;

/** The text without its marks. */
export function unmarked(text: string): string {
  return text.split("\n").filter((line) => !mark.test(line)).join("\n");
}

/** The text with a mark under each finding. */
export function marked(text: string, findings: readonly Finding[]): string {
  const map = lineMap(text);
  const sorted = [...findings].sort((a, b) => a.range.start - b.range.start || a.range.end - b.range.end);
  return text.split("\n").flatMap((line, i) => {
    const here = sorted.filter(({ range }) => map.position(range.start).line === i + 1);
    return [line, ...here.map(({ code, title, range }) => {
      const { column } = map.position(range.start);
      const length = Math.max(1, Math.min(range.end - range.start, line.length - column + 1));
      return `${" ".repeat(column - 1)}${"^".repeat(length)} ${code}: ${title}`;
    })];
  }).join("\n");
}
