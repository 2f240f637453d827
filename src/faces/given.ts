/** `NAME=VALUE …` on the command line, and points in a CSV file, to names and values. */
import { parse } from "csv-parse/sync";
import { refusals } from "../messages/cli.js";
import { CannotRun } from "./command.js";

export type Entry = readonly [name: string, value: string];

/** One point of a file: the line it ends on, and its cells, left to right. */
export interface PointRow {
  readonly row: number;
  readonly entries: readonly Entry[];
  /** A sentence, where the row does not fit the first one. */
  readonly problem?: string;
}

export function entriesOf(words: readonly string[]): readonly Entry[] {
  return words.map((word) => {
    const at = word.indexOf("=");
    if (at < 1) throw new CannotRun(refusals.noValue(word));
    return [word.slice(0, at), word.slice(at + 1)];
  });
}

/**
 * The rows of RFC 4180 text, or of the same parted by semicolons or tabs. `nameOf`: the name for what stands at the top of a column. A
 * row that is shorter than the header leaves the rest unknown; a blank line is no row, unless there is one column only.
 */
export function readPoints(path: string, text: string, nameOf: (heading: string) => string): readonly PointRow[] {
  const [header, ...records] = recordsOf(path, text);
  if (header === undefined) throw new CannotRun(refusals.noHeader(path));
  const names = header.record.map((name) => nameOf(name.trim()));
  return records
    .filter(({ record }) => names.length === 1 || record.length > 1 || record[0] !== "")
    .map(({ record, row }): PointRow => ({
      row,
      entries: names.map((name, at) => [name, record[at] ?? ""]),
      problem: record.length > names.length ? refusals.tooManyCells(row, record.length, names.length) : undefined,
    }));
}

interface Recorded {
  readonly record: readonly string[];
  readonly info: { readonly lines: number };
}

function recordsOf(path: string, text: string): readonly { readonly record: readonly string[]; readonly row: number }[] {
  try {
    // With `info` a record comes as an object, which the types of csv-parse do not say.
    const records = parse(text, { bom: true, info: true, relax_column_count: true, delimiter: delimiterOf(text) }) as unknown as readonly Recorded[];
    return records.map(({ record, info }) => ({ record, row: info.lines }));
  } catch (error) {
    throw new CannotRun(refusals.noCsv(path, error instanceof Error ? error.message : String(error)));
  }
}

/** Whatever parts the first line into most cells; the comma of equals. */
function delimiterOf(text: string): string {
  const cells = (delimiter: string): number => (parse(text, { bom: true, to: 1, relax_column_count: true, delimiter }) as string[][])[0]?.length ?? 0;
  return [",", ";", "\t"].reduce((best, other) => (cells(other) > cells(best) ? other : best));
}
