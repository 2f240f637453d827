/**
 * Plain text in columns: cells wrap inside their column, columns share the width there is.
 *
 *     Water clarity    Cover                 Blade style
 *     ───────────────  ────────────────────  ────────────────────
 *     dirty or muddy   any                   colorado, then
 *                                            indiana
 *
 * Widths count columns of a terminal: marks that combine take none, wide East Asian signs two (Unicode Standard Annex 11).
 */

/** A row of cells; `rule` draws a line above it. */
export interface Line {
  readonly cells: readonly string[];
  readonly rule?: boolean;
}

const GAP = 2;
const NARROWEST = 8;

/** Lines of at most `width` columns, unless there are so many columns that even narrow ones do not fit. */
export function inColumns(head: readonly string[], lines: readonly Line[], width: number): readonly string[] {
  const widths = fitted(head.map((title, i) => Math.max(widthOf(title), ...lines.map(({ cells }) => widthOf(cells[i] ?? "")))), width - GAP * (head.length - 1));
  const ruled = (mark: string): string => widths.map((columns) => mark.repeat(columns)).join(" ".repeat(GAP));
  return [
    ...laid(head, widths), ruled("─"),
    ...lines.flatMap(({ cells, rule }, i) => [...(rule && i > 0 ? [""] : []), ...laid(cells, widths)]),
  ];
}

/** A paragraph, wrapped; lines after the first are indented. */
export function wrapped(text: string, width: number, indent = 0): readonly string[] {
  const [first = "", ...rest] = wrap(text, width);
  return [first, ...wrap(rest.join(" "), width - indent).filter((line) => line !== "").map((line) => " ".repeat(indent) + line)];
}

export function widthOf(text: string): number {
  let columns = 0;
  for (const sign of text) columns += /^[\p{M}\p{Cf}]$/u.test(sign) ? 0 : isWide(sign) ? 2 : 1;
  return columns;
}

function laid(cells: readonly string[], widths: readonly number[]): readonly string[] {
  const wrappedCells = cells.map((cell, i) => wrap(cell, widths[i]!));
  const height = Math.max(...wrappedCells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, row) =>
    wrappedCells.map((lines, i) => padded(lines[row] ?? "", widths[i]!)).join(" ".repeat(GAP)).trimEnd());
}

/** The widest columns give way first. */
function fitted(wanted: readonly number[], room: number): readonly number[] {
  const widths = [...wanted];
  for (let total = widths.reduce((sum, one) => sum + one, 0); total > room; total--) {
    const widest = widths.indexOf(Math.max(...widths));
    if (widths[widest]! <= NARROWEST) break;
    widths[widest]!--;
  }
  return widths;
}

/** Breaks at blanks; a word longer than a line is cut. */
function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    let rest = word;
    if (line !== "" && widthOf(line) + 1 + widthOf(rest) > width) {
      lines.push(line);
      line = "";
    }
    while (line === "" && widthOf(rest) > width) {
      let cut = "";
      for (const sign of rest) {
        if (cut !== "" && widthOf(cut + sign) > width) break;
        cut += sign;
      }
      lines.push(cut);
      rest = rest.slice(cut.length);
    }
    line = line === "" ? rest : `${line} ${rest}`;
  }
  return line === "" && lines.length > 0 ? lines : [...lines, line];
}

function padded(text: string, columns: number): string {
  return text + " ".repeat(Math.max(0, columns - widthOf(text)));
}

function isWide(sign: string): boolean {
  const code = sign.codePointAt(0)!;
  return (code >= 0x1100 && code <= 0x115f) || (code >= 0x2e80 && code <= 0xa4cf) || (code >= 0xac00 && code <= 0xd7a3) ||
    (code >= 0xf900 && code <= 0xfaff) || (code >= 0xfe30 && code <= 0xfe6f) || (code >= 0xff00 && code <= 0xff60) ||
    (code >= 0xffe0 && code <= 0xffe6) || (code >= 0x1f300 && code <= 0x1faff) || (code >= 0x20000 && code <= 0x3fffd);
}
