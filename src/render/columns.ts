/**
 * Plain text in columns: cells wrap inside their column, columns share the width there is.
 *
 *     Water clarity    Cover                 Blade style
 *     ───────────────  ────────────────────  ────────────────────
 *     dirty or muddy   any                   colorado, then
 *                                            indiana
 *
 * Widths count columns of a terminal: marks that combine take none, wide East Asian signs and pictures two (Unicode Standard Annex 11).
 */
import stringWidth from "string-width";

/** A row of cells; `apart`: a blank line stands before it. */
export interface Line {
  readonly cells: readonly string[];
  readonly apart?: boolean;
}

const GAP = 2;

/**
 * Lines of at most `width` columns; only where there are so many columns that not even single letters fit, they get longer. With
 * `whole` words they get longer rather than cut one. `across` stands above all columns but the first.
 */
export function inColumns(
  head: readonly string[],
  lines: readonly Line[],
  width: number,
  { across, whole = false }: { readonly across?: string; readonly whole?: boolean } = {},
): readonly string[] {
  const columns = head.map((title, i) => [title, ...lines.map(({ cells }) => cells[i] ?? "")]);
  const widths = fitted(columns, width - GAP * (head.length - 1), whole);
  return [
    ...(across === undefined ? [] : wrap(across, Math.max(1, width - widths[0]! - GAP)).map((line) => " ".repeat(widths[0]! + GAP) + line)),
    ...laid(head, widths),
    widths.map((columns) => "─".repeat(columns)).join(" ".repeat(GAP)),
    ...lines.flatMap(({ cells, apart }, i) => [...(apart && i > 0 ? [""] : []), ...laid(cells, widths)]),
  ];
}

/** A paragraph, wrapped; lines after the first are indented. */
export function wrapped(text: string, width: number, indent = 0): readonly string[] {
  const [first = "", ...rest] = wrap(text, width);
  return [first, ...(rest.length === 0 ? [] : wrap(rest.join(" "), width - indent).map((line) => " ".repeat(indent) + line))];
}

export function widthOf(text: string): number {
  return stringWidth(text);
}

/** The signs of a text as they are seen: a letter with its marks, a picture of several code points. */
export function* signsOf(text: string): Generator<string> {
  for (const { segment } of segmenter.segment(text)) yield segment;
}

const segmenter = new Intl.Segmenter();

function laid(cells: readonly string[], widths: readonly number[]): readonly string[] {
  const wrappedCells = cells.map((cell, i) => wrap(cell, widths[i]!));
  const height = Math.max(...wrappedCells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, row) =>
    wrappedCells
      .map((lines, i) => padded(lines[row] ?? "", widths[i]!))
      .join(" ".repeat(GAP))
      .trimEnd(),
  );
}

/**
 * Widths that fit the room: every column as wide as its longest word, then whatever is left goes, step by step, to where it saves most
 * lines for its columns.
 */
function fitted(columns: readonly (readonly string[])[], room: number, whole: boolean): readonly number[] {
  const natural = columns.map((cells) => Math.max(...cells.map(widthOf)));
  const sum = (widths: readonly number[]): number => widths.reduce((total, one) => total + one, 0);
  if (sum(natural) <= room) return natural;
  const widths = columns.map((cells) => Math.max(...cells.flatMap((cell) => cell.split(" ").map(widthOf))));
  if (sum(widths) > room) return whole ? widths : squeezed(widths, room);
  const heights = columns.map(() => new Map<number, readonly number[]>());
  const heightsOf = (column: number, width: number): readonly number[] => {
    let known = heights[column]!.get(width);
    if (!known) heights[column]!.set(width, (known = columns[column]!.map((cell) => wrap(cell, width).length)));
    return known;
  };
  const lines = (): number =>
    columns[0]!.reduce((total, _, row) => total + Math.max(...widths.map((width, column) => heightsOf(column, width)[row]!)), 0);
  for (let spare = room - sum(widths), before = lines(); spare > 0;) {
    let best: { readonly column: number; readonly width: number; readonly saved: number } | undefined;
    widths.forEach((old, column) => {
      for (let width = old + 1; width <= Math.min(natural[column]!, old + spare); width++) {
        widths[column] = width;
        // Of equal heights, fewer lines within the cells of the column count a little.
        const inCells = (at: number): number => heightsOf(column, at).reduce((total, one) => total + one, 0);
        const saved = (before - lines() + (inCells(old) - inCells(width)) / 100) / (width - old);
        if (saved > (best?.saved ?? 0)) best = { column, width, saved };
      }
      widths[column] = old;
    });
    if (!best) break;
    spare -= best.width - widths[best.column]!;
    widths[best.column] = best.width;
    before = lines();
  }
  return widths;
}

/** The widest give way first; words are cut. */
function squeezed(wanted: readonly number[], room: number): readonly number[] {
  const widths = [...wanted];
  for (let total = widths.reduce((sum, one) => sum + one, 0); total > room; total--) {
    const widest = widths.indexOf(Math.max(...widths));
    if (widths[widest] === 1) break;
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
    while (widthOf(rest) > width) {
      let cut = "";
      for (const sign of signsOf(rest)) {
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
