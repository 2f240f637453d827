/**
 * Giving a thing another name, wherever it is written.
 *
 *     mention, new name ──legal?──▶ edits in every book ──read again──▶ the same names, the same errors?  then: edits    else: why not
 *
 * Whether a name is taken, or means something else somewhere, is not worked out by rules of its own: each view is read again with the
 * edits applied, and every name in it must then stand for the thing it stood for before.
 */
import type { Edit, Finding, Place } from "../../diagnostics.js";
import * as say from "../../messages/rename.js";
import type { Model } from "../../model/model.js";
import type { Read } from "../../model/books.js";
import { parse } from "../../syntax/parse.js";
import type * as tree from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import { nameOfAmount } from "./name-table.js";
import { namesOf } from "./names.js";
import { thingKey, type Mention, type Thing } from "../../model/names.js";
import { mentionsAcross } from "./references.js";
import { openView, type View } from "../view.js";

/** Why not, in sentences. */
export interface Refused {
  readonly refused: string;
}
export interface Renamable {
  /** Without quotes. */
  readonly range: Range;
  readonly name: string;
}
export interface RenameOptions {
  /** The views of other books in the workspace. */
  readonly others?: readonly View[];
  /** How books are read; by default from the views themselves, which is enough unless two paths lead to one file. */
  readonly read?: Read;
}

export function prepareRename(view: View, offset: number): Renamable | Refused {
  const mention = namesOf(view).at(offset);
  return mention === undefined
    ? { refused: say.nothingToRename() }
    : { range: mention.range, name: view.text.slice(mention.range.start, mention.range.end) };
}

/** The edits, by place; in several books if the name stands in several. No edits if it is called so already. */
export function rename(view: View, offset: number, wanted: string, { others = [], read }: RenameOptions = {}): readonly Edit[] | Refused {
  const mention = namesOf(view).at(offset);
  if (mention === undefined) return { refused: say.nothingToRename() };
  const { thing } = mention;
  const written = readWanted(thing, wanted);
  if ("refused" in written) return written;
  if (written.inQuotes === thing.name) return [];
  const views = [view, ...others.filter(({ path }) => path !== view.path)];
  const mentions = mentionsAcross(view, thing, others);
  const edits = mentions.map(({ path, range }): Edit => ({
    path,
    range,
    text: isQuoted(textAt(views, path), range) ? written.inQuotes : written.bare,
  }));
  const sorted = edits.sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : a.range.start - b.range.start));
  const changed = new Set(mentions.map(({ path }) => path));
  for (const one of views) {
    if (!one.model.books.some(({ path }) => changed.has(path))) continue;
    const problem = problemWith(one, sorted, thing, written.inQuotes, read);
    if (problem !== undefined) return { refused: problem };
  }
  return sorted;
}

/** What a thing is called in a list, where it is to be called so in a book; undefined where it cannot be. */
export function nameInLists(thing: Thing, wanted: string): string | undefined {
  const written = readWanted(thing, wanted);
  return "refused" in written ? undefined : written.inQuotes;
}

// Legal names -------------------------------------------------------------------------------------------------------------

/** The new name as it is written outside and inside of quotes. */
interface Wanted {
  readonly bare: string;
  readonly inQuotes: string;
}

function readWanted({ kind }: Thing, wanted: string): Wanted | Refused {
  const plain = wanted.trim();
  if (kind === "pattern" || kind === "caution" || kind === "promise" || kind === "book") {
    const title = plain.length > 2 ? plain.replace(/^"(.*)"$/, "$1") : plain;
    return readOption(`"${title}"`)?.kind === "text" && title.trim() !== ""
      ? { bare: title, inQuotes: title }
      : { refused: say.notATitle(title) };
  }
  if (kind === "option") {
    const option = readOption(plain) ?? readOption(`"${plain}"`);
    if (option === undefined || (option.kind === "text" && option.value.trim() === "")) return { refused: say.notAnOption(plain) };
    if (option.kind === "text") return { bare: `"${option.value}"`, inQuotes: option.value };
    const written = option.kind === "quantity" ? nameOfAmount(option) : plain;
    return { bare: written, inQuotes: written };
  }
  if (isName(plain)) return { bare: plain, inQuotes: plain };
  const likely = plain
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
  return { refused: say.notAName(plain, isName(likely) ? likely : undefined) };
}

function isName(text: string): boolean {
  return readOption(text)?.kind === "name";
}

/** What a text is as the one option of a pick, if it is one as it stands. */
function readOption(text: string): tree.Value | undefined {
  const { tree, findings } = parse(`pick x: ${text}`, "");
  const [statement, more] = tree.statements;
  if (findings.length > 0 || more !== undefined || statement?.kind !== "pick" || tree.comments.length > 0 || statement.options.length !== 1)
    return undefined;
  const [option] = statement.options;
  return statement.range.end === option!.range.end ? option : undefined;
}

function isQuoted(text: string, { start }: Range): boolean {
  return /["“„]/.test(text[start - 1] ?? "");
}

function textAt(views: readonly View[], path: string): string {
  for (const { model } of views) for (const book of model.books) if (book.path === path) return book.text;
  return "";
}

// Read again ----------------------------------------------------------------------------------------------------------------

/** What would be wrong with a view after the edits. */
function problemWith(view: View, edits: readonly Edit[], thing: Thing, name: string, read: Read | undefined): string | undefined {
  const after = reopened(view, edits, read);
  const moved = shifted(edits);
  const before = errorsOf(view.findings);
  for (const [key, errors] of errorsOf(after.findings)) {
    const known = before.get(key) ?? [];
    if (errors.length <= known.length) continue;
    const places = new Set(known.map(moved));
    const fresh = errors.find(({ path, range }) => !places.has(placeKey(path, range.start))) ?? errors[0]!;
    return say.wouldBreak(name, fresh.path, `${fresh.title}. ${fresh.message}`);
  }
  if (thing.kind === "option" && placeAmong(view.model, thing) !== placeAmong(after.model, { ...thing, name }))
    return say.wouldChangePlace(name, thing.of!, thing.name);
  const other = firstChanged(namesOf(view).mentions, namesOf(after).mentions, moved);
  return other === undefined ? undefined : say.wouldMeanOther(name, other.path);
}

/** Whether names stand for other things than before: the first that does. A word that meant nothing may come to mean something. */
function firstChanged(before: readonly Mention[], after: readonly Mention[], moved: (place: Place) => string): Mention | undefined {
  const found = new Map(after.map((mention) => [placeKey(mention.path, mention.range.start), mention]));
  const [now, then] = [new Map<string, string>(), new Map<string, string>()];
  return before.find((mention) => {
    const same = found.get(moved(mention));
    if (same === undefined || same.thing.kind !== mention.thing.kind || same.declares !== mention.declares) return true;
    const [was, is] = [thingKey(mention.thing), thingKey(same.thing)];
    if (!now.has(was)) now.set(was, is);
    if (!then.has(is)) then.set(is, was);
    return now.get(was) !== is || then.get(is) !== was;
  });
}

function reopened(view: View, edits: readonly Edit[], read: Read | undefined): View {
  const texts = new Map(view.model.books.map(({ path, text }) => [path, edited(path, text, edits)]));
  const readEdited: Read = (path) => {
    const answer = texts.has(path) || read === undefined ? undefined : read(path);
    const text = texts.get(answer !== undefined && "text" in answer ? (answer.path ?? path) : path);
    if (text === undefined) return answer ?? { problem: "" };
    return answer !== undefined && "text" in answer && answer.path !== undefined ? { text, path: answer.path } : { text };
  };
  const { on } = view.model;
  return openView(view.path, edited(view.path, view.text, edits), readEdited, on === undefined ? {} : { on });
}

function edited(path: string, text: string, edits: readonly Edit[]): string {
  let [result, last] = ["", 0];
  for (const edit of edits) {
    if (edit.path !== path) continue;
    result += text.slice(last, edit.range.start) + edit.text;
    last = edit.range.end;
  }
  return result + text.slice(last);
}

/** Where what starts at a place starts after the edits; of a name put in quotes, the name. */
function shifted(edits: readonly Edit[]): (place: Place) => string {
  const byPath = new Map<string, { readonly start: number; readonly end: number; readonly quote: number; readonly by: number }[]>();
  for (const {
    path,
    range: { start, end },
    text,
  } of edits) {
    const list = byPath.get(path) ?? [];
    byPath.set(path, list);
    list.push({ start, end, quote: text.startsWith('"') ? 1 : 0, by: (list.at(-1)?.by ?? 0) + text.length - (end - start) });
  }
  return ({ path, range: { start } }) => {
    const list = byPath.get(path) ?? [];
    const here = list.find((edit) => edit.start === start);
    return placeKey(path, start + (here?.quote ?? 0) + (list.findLast(({ end }) => end <= start)?.by ?? 0));
  };
}

function placeKey(path: string, start: number): string {
  return `${start} ${path}`;
}

function errorsOf(findings: readonly Finding[]): ReadonlyMap<string, readonly Finding[]> {
  const errors = new Map<string, Finding[]>();
  for (const finding of findings) {
    if (finding.severity !== "error") continue;
    const key = `${finding.code} ${finding.path}`;
    const list = errors.get(key);
    if (list === undefined) errors.set(key, [finding]);
    else list.push(finding);
  }
  return errors;
}

/** Where an option stands in the order of its pick: `weight is 3/8 oz or heavier` would else no longer be said of the same. */
function placeAmong({ picks }: Model, { of, name }: Thing): string {
  const pick = picks.find((one) => one.name === of);
  return pick === undefined ? "" : `${pick.ordered} ${pick.options.findIndex(({ text }) => text === name)}`;
}
