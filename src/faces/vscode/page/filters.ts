/**
 * Which rows of a table are shown: those that fit every value chosen and have every word looked for.
 *
 *     clarity: muddy, blade: leaf, "grass"   ──▶   rows under which muddy water may be, that recommend a leaf, and say "grass" somewhere
 *
 * A value chosen stays chosen while the book changes and another pick is shown; where there is no such column or value, it narrows nothing.
 */
import type { Filters, Shown, ShownColumn, ShownRow } from "./messages.js";

/** A test of rows, and how many of the values chosen it goes by; words count as one. */
export interface Narrowing {
  readonly count: number;
  fits(row: ShownRow): boolean;
}

export function narrowing({ columns, answer }: Pick<Shown, "columns" | "answer">, { values, text }: Filters): Narrowing {
  const chosen = (column: ShownColumn): number => column.values.indexOf(values[column.name] ?? "");
  const limits = columns.map(chosen);
  const option = chosen(answer);
  const words = text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  return {
    count: [...limits, option].filter((value) => value >= 0).length + Math.min(words.length, 1),
    fits: (row) =>
      limits.every((value, at) => value < 0 || (row.fits[at]?.includes(value) ?? true)) &&
      (option < 0 || row.options.includes(option)) &&
      hasWords(row, words),
  };
}

function hasWords({ when, answer, because }: ShownRow, words: readonly string[]): boolean {
  if (words.length === 0) return true;
  const said = [...when, answer, ...because.map(({ title }) => title)].join("\n").toLowerCase();
  return words.every((word) => said.includes(word));
}
