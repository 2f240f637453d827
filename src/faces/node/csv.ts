/** Points in a CSV file, to names and values. */
import { Readable } from "node:stream";
import { parse, type CsvError } from "csv-parse";
import { parse as parseWhole } from "csv-parse/sync";
import { commandRefusals } from "../../messages/cli.js";
import { CannotRun } from "./exit.js";

export type Entry = readonly [name: string, value: string];

/** One point of a file: the line it ends on, and its cells, left to right. */
export interface PointRow {
  readonly row: number;
  readonly entries: readonly Entry[];
  /** Cells of the columns that have no name here, by their headings, left to right. */
  readonly beside: readonly Entry[];
  /** A sentence, where the row does not fit the first one. */
  readonly problem?: string;
}

/**
 * The rows of RFC 4180 text, or of the same parted by semicolons or tabs, as they come in: only as much of the text is held as the next
 * row needs. `nameOf`: the name for what stands at the top of a column; undefined: it stands beside the point. A row that is shorter than the header leaves the rest unknown; a
 * blank line is no row, unless there is one column only. Throws `CannotRun`.
 */
export async function* readPoints(
  path: string,
  chunks: AsyncIterable<string>,
  nameOf: (heading: string) => string | undefined,
): AsyncGenerator<PointRow> {
  let columns: readonly { readonly heading: string; readonly name: string | undefined }[] | undefined;
  for await (const { record, row } of recordsOf(path, chunks)) {
    if (columns === undefined) {
      columns = record.map((cell) => cell.trim()).map((heading) => ({ heading, name: nameOf(heading) }));
      continue;
    }
    if (columns.length > 1 && record.length === 1 && record[0] === "") continue;
    yield {
      row,
      entries: columns.flatMap(({ name }, at) => (name === undefined ? [] : [[name, record[at] ?? ""] as const])),
      beside: columns.flatMap(({ heading, name }, at) => (name === undefined ? [[heading, record[at] ?? ""] as const] : [])),
      problem: record.length > columns.length ? commandRefusals.tooManyCells(row, record.length, columns.length) : undefined,
    };
  }
  if (columns === undefined) throw new CannotRun(commandRefusals.noHeader(path));
}

interface Recorded {
  readonly record: readonly string[];
  readonly info: { readonly lines: number };
}

async function* recordsOf(
  path: string,
  chunks: AsyncIterable<string>,
): AsyncGenerator<{ readonly record: readonly string[]; readonly row: number }> {
  const { start, delimiter, rest } = await begun(chunks);
  // A parser that stops at a fault drops what it has read before it; so it goes on, and the rows after the fault are dropped here.
  let fault: CsvError | undefined;
  const parser = parse({
    bom: true,
    info: true,
    relax_column_count: true,
    delimiter,
    skip_records_with_error: true,
    on_skip: (error) => void (fault ??= error),
  });
  const feed = Readable.from(joined(start, rest));
  // What goes wrong with the file itself goes wrong with its rows.
  feed.on("error", (error) => parser.destroy(error));
  feed.pipe(parser);
  try {
    // With `info` a record comes as an object, which the types of csv-parse do not say.
    for await (const { record, info } of parser as AsyncIterable<Recorded>) {
      if (fault && info.lines >= Number(fault["lines"])) break;
      yield { record, row: info.lines };
    }
    if (fault) throw fault;
  } catch (error) {
    throw error instanceof CannotRun
      ? error
      : new CannotRun(commandRefusals.noCsv(path, error instanceof Error ? error.message : String(error)));
  } finally {
    feed.destroy();
  }
}

async function* joined(start: string, rest: AsyncIterator<string>): AsyncGenerator<string> {
  if (start !== "") yield start;
  for (let next = await rest.next(); !next.done; next = await rest.next()) yield next.value;
}

/** A header is looked for in the first so many characters. */
const LONGEST_HEADER = 1 << 16;

/** As much as the first line needs, what parts its cells, and what comes after. */
async function begun(
  chunks: AsyncIterable<string>,
): Promise<{ readonly start: string; readonly delimiter: string; readonly rest: AsyncIterator<string> }> {
  const rest = chunks[Symbol.asyncIterator]();
  let start = "";
  while (!/[\r\n]/.test(start.trimStart()) && start.length < LONGEST_HEADER) {
    const next = await rest.next();
    if (next.done) break;
    start += next.value;
  }
  return { start, delimiter: delimiterOf(start), rest };
}

/** Whatever parts the first line into most cells; the comma of equals. */
function delimiterOf(text: string): string {
  const cells = (delimiter: string): number => {
    try {
      return parseWhole(text, { bom: true, to: 1, relax_column_count: true, delimiter })[0]?.length ?? 0;
    } catch {
      // A quote that is closed further on.
      return 0;
    }
  };
  return [",", ";", "\t"].reduce((best, other) => (cells(other) > cells(best) ? other : best));
}
