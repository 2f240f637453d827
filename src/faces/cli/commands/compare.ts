/**
 * `waterlore compare`: exactly where the recommendation of two books, or of two folders of books, is not the same.
 *
 *     OLD, NEW  ──sideOf──▶ books by their path from the folder  ──matched──▶ compare  ──▶ text, Markdown or JSON
 */
import { statSync } from "node:fs";
import { compare } from "../../../compare/compare.js";
import { comparisonJson, comparisonMarkdown, comparisonText, differs, type BookSide, type ComparedBook } from "../../../compare/report.js";
import { commandRefusals } from "../../../messages/cli.js";
import { compareRefusals } from "../../../messages/compare.js";
import type { Read } from "../../../model/books.js";
import type { Model } from "../../../model/model.js";
import { resolve } from "../../../model/resolve.js";
import { parse } from "../../../syntax/parse.js";
import { byText, type Opened } from "../../../text.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { booksOrStop } from "../../node/find-books.js";
import { atRevision, booksAt, kindAt, readAt } from "../../node/git.js";
import { shownPath } from "../../node/paths.js";
import { reader } from "../../node/read.js";
import { settingsOf, type SettingOptions } from "../../node/settings.js";
import { print } from "../../node/streams.js";
import { harmless, jsonText, terminalOf } from "../../node/terminal.js";

export interface CompareOptions extends SettingOptions {
  readonly format: "text" | "markdown" | "json";
}

export async function compareCommand(old: string, now: string, options: CompareOptions): Promise<ExitCode> {
  const { on, steps } = await settingsOf(options);
  const [before, after] = [await sideOf(old), await sideOf(now)];
  if (before.folder !== after.folder)
    throw new CannotRun(before.folder ? compareRefusals.oneFolder(now, old) : compareRefusals.oneFolder(old, now));
  const paths = [...new Set([...before.books.keys(), ...after.books.keys()])].sort(byText);
  const books = paths.map((key): ComparedBook => {
    const [was, is] = [bookOn(before, key, on), bookOn(after, key, on)];
    return {
      path: before.folder ? key : is!.side.path,
      ...(was && { old: was.side }),
      ...(is && { new: is.side }),
      ...(was && is && { comparison: compare(was.model, is.model, { steps }) }),
    };
  });
  switch (options.format) {
    case "text":
      print(harmless(comparisonText(books, { width: terminalOf(process.stdout).width })));
      break;
    case "markdown":
      print(harmless(comparisonMarkdown(books)));
      break;
    case "json":
      print(jsonText(comparisonJson(books)));
  }
  return books.some(differs) ? 1 : 0;
}

/** One side: books by what they are matched by. Of a single book that is nothing at all, so any two books match. */
export interface ComparedSide {
  readonly folder: boolean;
  readonly books: ReadonlyMap<string, string>;
  readonly read: Read;
  readonly shown: (path: string) => string;
}

export async function sideOf(word: string): Promise<ComparedSide> {
  const then = atRevision(word);
  if (then) {
    const { revision, path } = then;
    const kind = kindAt(revision, path);
    if (kind === undefined) throw new CannotRun(compareRefusals.noSuchAt(revision.name, path));
    const found = kind === "folder" ? booksAt(revision, path) : [shownPath(path)];
    if (found.length === 0) throw new CannotRun(compareRefusals.noBooksAt(revision.name, path));
    return {
      folder: kind === "folder",
      books: kind === "folder" ? byFolder(found, path) : new Map([["", found[0]!]]),
      read: remembered((book) => readAt(revision, book)),
      shown: (book) => `${revision.name}:${book}`,
    };
  }
  const folder = isFolder(word);
  const books = await booksOrStop([word]);
  return { folder, books: folder ? byFolder(books, word) : new Map([["", books[0]!]]), read: reader(books), shown: (book) => book };
}

function byFolder(books: readonly string[], folder: string): ReadonlyMap<string, string> {
  const start = shownPath(folder).replace(/\/?$/, "/");
  return new Map(books.map((book) => [book.startsWith(start) ? book.slice(start.length) : book, book]));
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() === true;
}

function remembered(read: (path: string) => Opened): Read {
  const seen = new Map<string, Opened>();
  return (path) => {
    let opened = seen.get(path);
    if (!opened) seen.set(path, (opened = read(path)));
    return opened;
  };
}

/** Undefined if the side has no such book. A book that is not wholly understood would be compared as if it did not say the rest. */
export function bookOn(
  { books, read, shown }: ComparedSide,
  key: string,
  on: string,
): { readonly model: Model; readonly side: BookSide } | undefined {
  const path = books.get(key);
  if (path === undefined) return undefined;
  const opened = read(path);
  if ("problem" in opened) throw new CannotRun(commandRefusals.cannotRead(shown(path), opened.problem));
  const { model, findings } = resolve(parse(opened.text, path), read, { on });
  const errors = findings.filter(({ severity }) => severity === "error").length;
  if (errors > 0) throw new CannotRun(compareRefusals.broken(shown(path), errors));
  const { title, edition } = model.books.at(-1)!;
  return { model, side: { path: shown(path), title, ...(edition && { edition }) } };
}
