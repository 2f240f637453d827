/**
 * Names of a book in a shop's lists: the columns and cells of a stock list, or of a log of days, that go by what is renamed in the book.
 *
 *     item,⟨color⟩,in stock            pick color        the top of its column
 *     Mud Thumper,⟨dark⟩;bright,4      option dark       a part of a cell in it
 *
 * Which book a list belongs to is written nowhere, so it is one of every book to which all its columns belong. Where a new name cannot
 * stand in a place as it is, nothing of the list is changed. What is not renamed stays byte for byte.
 */
import { plainName } from "../../lookalikes.js";
import { conditionNamed } from "../../answer/given.js";
import type { Model } from "../../model/model.js";
import type { Thing } from "../../model/names.js";
import { logColumn } from "../../stock/log.js";
import { missingColumn, stockColumn } from "../../stock/rows.js";
import type { Range } from "../../text.js";

export interface ListEdit {
  readonly range: Range;
  readonly text: string;
}

/**
 * What to write in a list for a thing of a book to be called `name` there; nothing where the list does not name it or is none of the
 * book's; undefined where it names it and cannot name it so.
 */
export function renamedInList(text: string, model: Model, thing: Thing, name: string): readonly ListEdit[] | undefined {
  const [head = [], ...rows] = cellsIn(text);
  const kind = kindOf(head, model);
  if (kind === undefined) return [];
  const columns = head.map(({ value }) => columnOf(kind, model, value));
  const isHeading = kind === "stock" ? thing.kind === "pick" : thing.kind === "condition";
  const places: Place[] = isHeading
    ? head.filter(({ value }, i) => columns[i] === thing.name && plainName(value.trim()) === thing.name).map(whole)
    : inCells(kind, thing)
      ? rows.flatMap((row) => row.filter((_, i) => columns[i] === thing.of).flatMap((cell) => partsNaming(cell, thing.name, kind)))
      : [];
  if (places.length === 0) return [];
  if (isHeading && columns.includes(plainName(name))) return undefined;
  return places.every((place) => fits(place, name)) ? places.map(({ range }) => ({ range, text: name })) : undefined;
}

type ListKind = "stock" | "log";

function inCells(kind: ListKind, { kind: of }: Thing): boolean {
  return kind === "stock" ? of === "option" : of === "level" || of === "member" || of === "band" || of === "group";
}

/** A stock list is told by its columns; a log has columns of its book alone. */
function kindOf(head: readonly Cell[], model: Model): ListKind | undefined {
  for (const kind of ["stock", "log"] as const) {
    const columns = head.map(({ value }) => columnOf(kind, model, value));
    const known = columns.filter((column) => column !== undefined);
    if (known.length < columns.length || columns.length === 0) continue;
    if (kind === "stock" ? missingColumn(known) === undefined : known.some((column) => conditionNamed(model, column))) return kind;
  }
  return undefined;
}

function columnOf(kind: ListKind, model: Model, heading: string): string | undefined {
  const column = (kind === "stock" ? stockColumn : logColumn)(model, heading);
  return "name" in column ? column.name : undefined;
}

// Cells -------------------------------------------------------------------------------------------------------------------

interface Cell {
  /** Inside its quotes, if it has any. */
  readonly range: Range;
  readonly value: string;
  readonly quoted: boolean;
  readonly delimiter: string;
}

/** Where a name stands in a cell; `alone`: nothing else does. */
interface Place {
  readonly range: Range;
  readonly cell: Cell;
  readonly alone: boolean;
}

function whole(cell: Cell): Place {
  const start = cell.range.start + cell.value.length - cell.value.trimStart().length;
  return { range: { start, end: start + cell.value.trim().length }, cell, alone: true };
}

function partsNaming(cell: Cell, name: string, kind: ListKind): readonly Place[] {
  const wanted = spelled(name);
  if (spelled(cell.value) === wanted) return [whole(cell)].map(withoutQuotes);
  const places: Place[] = [];
  let start = cell.range.start;
  for (const part of cell.value.split(kind === "stock" ? ";" : /[;,]/)) {
    const from = start + part.length - part.trimStart().length;
    if (spelled(part) === wanted)
      places.push(withoutQuotes({ range: { start: from, end: from + part.trim().length }, cell, alone: false }));
    start += part.length + 1;
  }
  return places;
}

function withoutQuotes(place: Place): Place {
  const { range, cell } = place;
  const text = cell.value.slice(range.start - cell.range.start, range.end - cell.range.start);
  const quotes = /^("*)[^"]*\1$/.exec(text)?.[1]?.length ?? 0;
  return { ...place, range: { start: range.start + quotes, end: range.end - quotes } };
}

function spelled(text: string): string {
  return plainName(text.trim().replace(/^("+)(.*)\1$/, "$2")).replace(/\s+/g, " ");
}

/** Whether a name can stand there as it is: it must not be parted, and what has no quotes must need none. */
function fits({ cell, alone }: Place, name: string): boolean {
  if (!cell.quoted && (name.includes(cell.delimiter) || /["\r\n]/.test(name))) return false;
  return !name.includes('"') && (alone || !/[;,]/.test(name));
}

/** Rows of RFC 4180 text, or of the same parted by semicolons or tabs: by whatever parts the first row into most cells, the comma of equals. */
export function cellsIn(text: string): readonly (readonly Cell[])[] {
  const read = [",", ";", "\t"].map((delimiter) => rowsOf(text, delimiter));
  return read.reduce((best, other) => ((other[0]?.length ?? 0) > (best[0]?.length ?? 0) ? other : best));
}

function rowsOf(text: string, delimiter: string): readonly (readonly Cell[])[] {
  const cell = new RegExp(`(?:"((?:[^"]|"")*)"|([^${delimiter}\r\n]*))(${delimiter}|\r\n|\r|\n|$)`, "y");
  const rows: Cell[][] = [];
  cell.lastIndex = text.startsWith("\ufeff") ? 1 : 0;
  let row: Cell[] = [];
  for (;;) {
    const at = cell.lastIndex;
    const found = cell.exec(text);
    // What is not written as such text is written is no list.
    if (found === null) return [];
    const [, quoted, bare = "", end = ""] = found;
    const value = quoted ?? bare;
    const start = at + (quoted === undefined ? 0 : 1);
    row.push({ range: { start, end: start + value.length }, value, quoted: quoted !== undefined, delimiter });
    if (end === delimiter) continue;
    rows.push(row);
    row = [];
    if (end === "" || cell.lastIndex >= text.length) return rows;
  }
}
