/**
 * The books of the desk: for each what is written now, what was saved last, and what is found in it. The one place that knows whether
 * something is saved.
 *
 *     file ──read──▶ saved ──typing──▶ text, kept as a draft on every keystroke ──save──▶ file
 *       └─ changed by somebody else: taken over where nothing was typed, else both are kept until one is chosen
 */
import type { Diagnostic } from "vscode-languageserver-protocol";
import type { Drafts } from "./drafts.js";
import type { Folder } from "./folder.js";

interface Book {
  readonly path: string;
  /** As it is written now. */
  text: string;
  /** The file that it was made from; undefined: there is none yet. */
  saved?: { readonly text: string; readonly version: string };
  /** What somebody else has made of the file since. `gone`: it is there no more. */
  theirs?: { readonly text: string; readonly version: string } | "gone";
  /** Why it cannot be read, a whole sentence. */
  problem?: string | undefined;
  /** Why it could not be saved. */
  refused?: string;
}

export interface Books {
  readonly folder: string;
  /** In order of their paths, lists and settings too. */
  all(): readonly Book[];
  at(path: string): Book | undefined;
  isUnsaved(path: string): boolean;
  /** Undefined: nothing has been found out about it yet. */
  findings(path: string): readonly Diagnostic[] | undefined;
  found(path: string, findings: readonly Diagnostic[]): void;
  /** Whether all is found that is wrong in it as it is written now: until then, what is not found is no sign that nothing is wrong. */
  isChecked(path: string): boolean;
  checked(path: string): void;
  write(path: string, text: string): void;
  /** A new one, kept as a draft until it is saved. */
  create(path: string, text: string): void;
  save(path: string): Promise<boolean>;
  /** Of two versions the one here, the one in the folder, or both: the one here under the name `copy`. */
  settle(path: string, keep: "mine" | "theirs" | { readonly copy: string }): void;
  onChange(run: (path: string, change: "text" | "state" | "list" | "taken") => void): void;
}

/** All of a folder, with what was not saved the last time. */
export async function openBooks(folder: Folder, drafts: Drafts): Promise<Books> {
  const books = new Map<string, Book>();
  const found = new Map<string, readonly Diagnostic[]>();
  /** Written since all was found. */
  const open = new Set<string>();
  let listeners: readonly Parameters<Books["onChange"]>[0][] = [];
  const tell: Parameters<Books["onChange"]>[0] = (path, change) => {
    for (const run of listeners) run(path, change);
  };
  const saving = new Map<string, Promise<unknown>>();
  const isUnsaved = (path: string): boolean => {
    const book = books.get(path);
    return book !== undefined && book.problem === undefined && book.text !== book.saved?.text;
  };
  const keep = ({ path, text, saved }: Book): void => {
    if (text === saved?.text) drafts.drop(path);
    else drafts.keep(path, { text, before: saved?.version });
  };
  /** Undefined: there is no such file. */
  const load = async (path: string): Promise<Book | undefined> => {
    const read = await folder.read(path).catch((error: Error) => ({ problem: error.message, isMissing: false }));
    if (!("problem" in read)) return { path, text: read.text, saved: read };
    return read.isMissing ? undefined : { path, text: "", problem: read.problem };
  };
  /** What was written before, in place of what stands in the file; where the file has changed since, both. */
  const restore = (path: string, { text, before }: { readonly text: string; readonly before: string | undefined }): void => {
    const book = books.get(path);
    if (book?.saved?.text === text) return drafts.drop(path);
    if (book === undefined) books.set(path, { path, text, ...(before !== undefined && { theirs: "gone" as const }) });
    else {
      if (book.saved && book.saved.version !== before) book.theirs = book.saved;
      book.text = text;
    }
  };
  for (const book of await Promise.all((await folder.files()).map(load))) if (book) books.set(book.path, book);
  for (const [path, draft] of await drafts.all()) restore(path, draft);

  /** What stands in the folder now, after somebody else has written there. */
  const look = async (path: string): Promise<void> => {
    // What is being saved here is no news.
    await saving.get(path);
    const now = await load(path);
    const book = books.get(path);
    if (book === undefined) {
      if (now === undefined) return;
      books.set(path, now);
      return tell(path, "list");
    }
    if (now === undefined) {
      if (isUnsaved(path)) {
        book.theirs = "gone";
        return tell(path, "state");
      }
      books.delete(path);
      found.delete(path);
      return tell(path, "list");
    }
    if (now.saved === undefined || now.saved.version === book.saved?.version) return;
    if (!isUnsaved(path) || now.saved.text === book.text) {
      Object.assign(book, { text: now.text, saved: now.saved, problem: undefined });
      drafts.drop(path);
      return tell(path, "taken");
    }
    book.theirs = now.saved;
    tell(path, "state");
  };
  const create: Books["create"] = (path, text) => {
    const book: Book = { path, text };
    books.set(path, book);
    keep(book);
    tell(path, "list");
  };
  folder.watch((path) => void look(path).catch(() => undefined));

  return {
    folder: folder.name,
    all: () => [...books.values()].sort((a, b) => (a.path < b.path ? -1 : 1)),
    at: (path) => books.get(path),
    isUnsaved,
    findings: (path) => found.get(path),
    found: (path, findings) => {
      found.set(path, findings);
      tell(path, "state");
    },
    isChecked: (path) => found.has(path) && !open.has(path),
    checked: (path) => {
      if (open.delete(path)) tell(path, "state");
    },
    write: (path, text) => {
      const book = books.get(path);
      if (book === undefined || book.text === text) return;
      const before = isUnsaved(path);
      book.text = text;
      keep(book);
      const wasChecked = !open.has(path);
      open.add(path);
      tell(path, "text");
      if (wasChecked || before !== isUnsaved(path)) tell(path, "state");
    },
    create,
    save: async (path) => {
      const book = books.get(path);
      if (book === undefined || book.theirs !== undefined || !isUnsaved(path)) return book?.theirs === undefined;
      const { text } = book;
      const writing = folder.write(path, text, book.saved?.version);
      saving.set(path, writing);
      const written = await writing;
      saving.delete(path);
      if ("problem" in written) {
        if (written.conflict) await look(path);
        // What it is now is asked, not refused, where somebody else has changed it.
        if (!written.conflict || !books.get(path)?.theirs) book.refused = written.problem;
        tell(path, "state");
        return false;
      }
      book.saved = { text, version: written.version };
      delete book.refused;
      keep(book);
      tell(path, "state");
      return true;
    },
    settle: (path, which) => {
      const book = books.get(path);
      if (book?.theirs === undefined) return;
      const { theirs } = book;
      if (typeof which === "object") create(which.copy, book.text);
      delete book.theirs;
      if (theirs === "gone") delete book.saved;
      else book.saved = theirs;
      if (which !== "mine") {
        if (theirs === "gone") {
          books.delete(path);
          found.delete(path);
          drafts.drop(path);
          return tell(path, "list");
        }
        book.text = theirs.text;
      }
      keep(book);
      tell(path, which === "mine" ? "state" : "taken");
    },
    onChange: (run) => void (listeners = [...listeners, run]),
  };
}
