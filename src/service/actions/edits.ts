/** Changing texts: applying edits, and the edits that take whole statements, clauses and list items out or put them in. */
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Pattern, Statement, Tree } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";
import type { Candidate } from "./candidate.js";

/** The texts, by path, after the edits, which must not overlap. */
export function applied(texts: ReadonlyMap<string, string>, edits: readonly Edit[]): ReadonlyMap<string, string> {
  const result = new Map(texts);
  // Of two at one place the first stays first.
  for (const { edit } of edits.map((edit, i) => ({ edit, i })).sort((a, b) => b.edit.range.start - a.edit.range.start || b.i - a.i)) {
    const text = result.get(edit.path) ?? "";
    result.set(edit.path, text.slice(0, edit.range.start) + edit.text + text.slice(edit.range.end));
  }
  return result;
}

export function textIn({ text }: View, { start, end }: Range): string {
  return text.slice(start, end);
}

export function replace({ path }: View, { start, end }: Range, text: string): Edit {
  return { path, range: { start, end }, text };
}

export function insert(view: View, at: number, text: string): Edit {
  return replace(view, { start: at, end: at }, text);
}

/** A pattern's statement in the book itself, if it can be read. */
export function patternNamed({ parsed }: View, title: string): Pattern | undefined {
  return parsed.tree.statements.find(
    (statement): statement is Pattern => statement.kind === "pattern" && statement.title?.value === title && !parsed.broken.has(statement),
  );
}

/** The statements of the book itself in which nothing was reported by the parser, at or around a place. */
export function statementsAt({ parsed }: View, { start, end }: Range): readonly Statement[] {
  return parsed.tree.statements.filter(
    (statement) => statement.range.start <= end && statement.range.end >= start && !parsed.broken.has(statement),
  );
}

/** A clause more, on a line of its own below all others, or below the clause that ends at `after`. */
function addClause(view: View, { range }: Statement, clause: string, after = range.end): Edit {
  return insert(view, after, `\n  ${clause}`);
}

/** The pattern beats others too; nothing where it does so already. */
export function* beating(view: View, pattern: Pattern, others: readonly string[]): Generator<Candidate> {
  const losers = others.filter((title) => !pattern.beats.some(({ value }) => value === title));
  if (losers.length === 0) return;
  const titles = losers.map((title) => `"${title}"`).join(", ");
  const last = pattern.beats.at(-1);
  yield {
    title: fixTitles.beatAll(pattern.title!.value, losers),
    edits: [last ? insert(view, last.range.end, `, ${titles}`) : addClause(view, pattern, `beats ${titles}`)],
  };
}

/** A statement more, at the end of the book. */
export function addAtEnd(view: View, statement: string): Edit {
  const { text } = view;
  return insert(view, text.length, `${text === "" ? "" : text.endsWith("\n") ? "\n" : "\n\n"}${statement}\n`);
}

/** A statement more, on the line below another. */
export function addBelow(view: View, { range }: Statement, statement: string): Edit {
  const rest = /^[^\r\n]*/.exec(view.text.slice(range.end))![0];
  return insert(view, range.end + rest.length, `\n${statement}`);
}

/** A statement taken out with its lines, and with the blank lines that would be left over. */
export function takeOut(view: View, { range }: Statement): Edit {
  const { text } = view;
  let [start, end] = [range.start, range.end];
  const alone = /(?:^|\n)[^\S\n]*$/.test(text.slice(0, start));
  const after = /^[^\S\n]*(?:\r?\n|$)/.exec(text.slice(end))?.[0];
  if (!alone || after === undefined) return replace(view, { start, end }, "");
  end += after.length;
  start -= /[^\S\n]*$/.exec(text.slice(0, start))![0].length;
  const blankBefore = start === 0 || /\n[^\S\n]*\r?\n$/.test(text.slice(0, start));
  if (blankBefore) end += /^(?:[^\S\n]*\r?\n)*/.exec(text.slice(end))![0].length;
  if (end >= text.length) start -= /(?:\n[^\S\n]*\r?)*(?=\n$)/.exec(text.slice(0, start))![0].length;
  return replace(view, { start, end }, "");
}

/** An item taken out of a list, with its comma. */
export function takeFromList(view: View, items: readonly { readonly range: Range }[], at: number): Edit {
  const [before, after] = [items[at - 1], items[at + 1]];
  if (before) return replace(view, { start: before.range.end, end: items[at]!.range.end }, "");
  return replace(view, { start: items[at]!.range.start, end: after?.range.start ?? items[at]!.range.end }, "");
}

/** The clause that begins with a word and ends at `end`, with the blanks before it. */
function takeClause(view: View, word: string, first: Range, end: number): Edit | undefined {
  const lead = new RegExp(`\\s*\\b${word}\\s+$`).exec(view.text.slice(0, first.start));
  return lead ? replace(view, { start: lead.index, end }, "") : undefined;
}

/** Every mention of a pattern after `beats` taken out. */
export function takeMentions(view: View, tree: Tree, title: string): readonly (Edit | undefined)[] {
  return tree.statements
    .filter((statement): statement is Pattern => statement.kind === "pattern")
    .flatMap((pattern) => dropBeaten(view, pattern, title));
}

export function dropBeaten(view: View, { beats }: Pattern, title: string): readonly (Edit | undefined)[] {
  const left = beats.filter(({ value }) => value !== title);
  if (left.length === beats.length) return [];
  if (left.length === 0) return [takeClause(view, "beats", beats[0]!.range, beats.at(-1)!.range.end)];
  return [replace(view, { start: beats[0]!.range.start, end: beats.at(-1)!.range.end }, left.map(({ value }) => `"${value}"`).join(", "))];
}

/** All of them, or none if one could not be made. */
export function whole(edits: readonly (Edit | undefined)[]): readonly Edit[] {
  return edits.every((edit) => edit !== undefined) ? edits : [];
}
