/**
 * Where what is named at an offset is declared.
 *
 *     when cla|rity is dirty      ──▶ condition ⟨clarity⟩: …          beats "Mud"  ──▶ pattern "⟨Mud⟩" …
 *     builds on "com|mon.lore"    ──▶ the beginning of that book
 */
import type { Place } from "../../diagnostics.js";
import { besides } from "../../paths.js";
import type { Book } from "../../model/model.js";
import { insideQuotes, type Range } from "../../text.js";
import { namesOf } from "./names.js";
import type { View } from "../view.js";

export interface Definition {
  /** What was asked about, in the viewed book. */
  readonly from: Range;
  /** One; more only where a name is declared twice by mistake. */
  readonly to: readonly DefinitionTarget[];
}

interface DefinitionTarget {
  /** The name where it is declared. */
  readonly name: Place;
  /** The whole statement that declares it. */
  readonly whole: Place;
}

export function definitionAt(view: View, offset: number): Definition | undefined {
  const names = namesOf(view);
  const mention = names.at(offset);
  if (mention === undefined) return bookAt(view, offset);
  const { books } = view.model;
  const to = names
    .of(mention.thing)
    .filter(({ declares }) => declares)
    .map(({ path, range }) => {
      const statement = books
        .find((book) => book.path === path)
        ?.tree.statements.find((one) => one.range.start <= range.start && one.range.end >= range.end);
      return { name: { path, range }, whole: { path, range: statement?.range ?? range } };
    });
  return to.length === 0 ? undefined : { from: mention.range, to };
}

function bookAt({ path, text, parsed, model }: View, offset: number): Definition | undefined {
  for (const statement of parsed.tree.statements) {
    if (statement.kind !== "builds on" || statement.path === undefined) continue;
    const { range, value } = statement.path;
    if (offset < range.start || offset > range.end) continue;
    const book = model.books.find((one) => one.path === besides(path, value));
    return book && { from: insideQuotes(text, range), to: [beginningOf(book)] };
  }
  return undefined;
}

function beginningOf({ path, tree: { range, statements } }: Book): DefinitionTarget {
  const title = statements.find((statement) => statement.kind === "book")?.title;
  return { name: { path, range: title?.range ?? { start: 0, end: 0 } }, whole: { path, range } };
}
