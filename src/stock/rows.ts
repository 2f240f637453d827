/**
 * What a shop has: one item per row, each with the options that it is.
 *
 *     item,family,blade,in stock,price
 *     Mud Thumper,spinnerbait,round,4,6.49
 *     Frog,frog,,2,4.99                       an empty cell: it does for whatever the pick says
 *     Loose blades No. 4,-,leaf;teardrop,yes,  a dash: it goes with whatever the pick says, but nobody buys it for that
 *
 * Rows are checked one by one; one that cannot be taken is reported, and the others are kept.
 */
import { stockWords } from "../messages/stock.js";
import { plainName } from "../lookalikes.js";
import type { Model, Pick } from "../model/model.js";
import { nearest } from "../suggest.js";
import { isAmount, type LogRow, type RowProblem } from "./log.js";

export interface Stock {
  /** Indexes of the picks of which some item names an option, rising. */
  readonly picks: readonly number[];
  readonly items: readonly Item[];
}

export interface Item {
  readonly row: number;
  readonly name: string;
  /** The options it is, by pick; a pick whose cell is empty or a dash is not there: the item fits whatever that says. */
  readonly options: ReadonlyMap<number, readonly number[]>;
  /** Picks that it fits but is not bought for. */
  readonly notFor: ReadonlySet<number>;
  /** As written: a number, `yes` or `no`. */
  readonly inStock: string;
  readonly available: boolean;
  readonly price?: string;
  readonly shelf?: string;
}

const ITEM = "item";
const IN_STOCK = "in stock";
const texts = ["price", "shelf"] as const;
const own: readonly string[] = [ITEM, IN_STOCK, ...texts];

/** The name of a column: `item`, `in stock`, `price`, `shelf`, or that of a pick, by its name or label; or why there is no such column. */
export function stockColumn(model: Model, heading: string): { readonly name: string } | { readonly problem: string } {
  const wanted = plainName(heading.trim());
  if (own.includes(wanted)) return { name: wanted };
  const sold = model.picks.filter(({ judgement }) => !judgement);
  const pick = sold.find(({ name }) => name === wanted) ?? sold.find(({ label }) => plainName(label) === wanted);
  if (pick) return { name: pick.name };
  if (model.picks.some(({ name }) => name === wanted)) return { problem: stockWords.judgementColumn(wanted) };
  const known = sold.map(({ name }) => name);
  return { problem: stockWords.unknownColumn(heading.trim(), known, nearest(wanted, [...own, ...known])) };
}

/** What is missing among the named columns, in a sentence; undefined: nothing. */
export function missingColumn(columns: readonly string[]): string | undefined {
  const missing = [ITEM, IN_STOCK].find((name) => !columns.includes(name));
  if (missing !== undefined) return stockWords.missingColumn(missing);
  const twice = columns.find((name, i) => columns.indexOf(name) < i);
  if (twice !== undefined) return stockWords.columnTwice(twice);
  return columns.every((name) => own.includes(name)) ? stockWords.noPickColumn : undefined;
}

/** Reads rows whose columns `stockColumn` has named. */
export function readStock(
  model: Model,
  columns: readonly string[],
  rows: Iterable<LogRow>,
): { readonly stock: Stock; readonly problems: readonly RowProblem[] } {
  const picks = model.picks.filter(({ name, judgement }) => !judgement && !own.includes(name) && columns.includes(name));
  const items: Item[] = [];
  const problems: RowProblem[] = [];
  const rowOf = new Map<string, number>();
  for (const { row, cells } of rows) {
    const cellOf = (name: string): string => cells.find(([column]) => column === name)?.[1].trim() ?? "";
    const found: RowProblem[] = [];
    const name = cellOf(ITEM);
    const inStock = cellOf(IN_STOCK).toLowerCase();
    if (name === "") found.push({ row, column: ITEM, problem: stockWords.noName });
    else if (rowOf.has(name)) found.push({ row, column: ITEM, problem: stockWords.sameName(name, rowOf.get(name)!) });
    if (!isAmount(inStock) && inStock !== "yes" && inStock !== "no")
      found.push({ row, column: IN_STOCK, problem: stockWords.notInStock(inStock) });
    const options = new Map<number, readonly number[]>();
    const notFor = new Set<number>();
    for (const pick of picks) {
      const read = readOptions(pick, cellOf(pick.name));
      if ("problem" in read) found.push({ row, column: pick.name, problem: read.problem });
      else if (read.options === NOT_FOR) notFor.add(pick.index);
      else if (read.options.length > 0) options.set(pick.index, read.options);
    }
    if (name !== "" && !rowOf.has(name)) rowOf.set(name, row);
    if (found.length === 0)
      items.push({
        row,
        name,
        options,
        notFor,
        inStock,
        available: inStock === "yes" || (isAmount(inStock) && Number(inStock) > 0),
        ...Object.fromEntries(texts.flatMap((text) => (cellOf(text) === "" ? [] : [[text, cellOf(text)]]))),
      });
    problems.push(...found);
  }
  return {
    stock: { picks: picks.flatMap(({ index }) => (items.some(({ options }) => options.has(index)) ? [index] : [])), items },
    problems,
  };
}

const DASH = "-";
const NOT_FOR = Symbol("not for");

function readOptions(pick: Pick, cell: string): { readonly options: readonly number[] | typeof NOT_FOR } | { readonly problem: string } {
  const known = pick.options.map(({ text }) => spelled(text));
  // An option may hold a semicolon, or be a dash.
  const whole = known.indexOf(spelled(cell));
  if (whole >= 0) return { options: [whole] };
  if (cell === DASH) return { options: NOT_FOR };
  const parts = cell
    .split(";")
    .map((part) => part.trim())
    .filter((part) => part !== "");
  const found = parts.map((part) => known.indexOf(spelled(part)));
  const stranger = found.indexOf(-1);
  if (stranger >= 0) {
    const close = nearest(spelled(parts[stranger]!), known);
    const texts = pick.options.map(({ text }) => text);
    return {
      problem: stockWords.unknownOption(pick.name, parts[stranger]!, texts, close === undefined ? undefined : texts[known.indexOf(close)]),
    };
  }
  return { options: [...new Set(found)].sort((a, b) => a - b) };
}

function spelled(text: string): string {
  return plainName(text.trim().replace(/^"(.*)"$/, "$1")).replace(/\s+/g, " ");
}
