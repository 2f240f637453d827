/**
 * The books of the workspace that are not open: read when somebody asks about all of them, and kept while their texts stay the same.
 */
import type { View } from "../../service/view.js";
import type { Files } from "./host.js";
import type { Library } from "./library.js";
import type { BookSettings } from "./settings.js";
import { openWorkshop, type Workshop } from "./workshop.js";

export interface ClosedBooks {
  /** Paths of all books in the workspace's folders, open or not. */
  paths(): Promise<readonly string[]>;
  /** Those of them that a check of their folder looks at, counted now. */
  checked(): Promise<readonly string[]>;
  /** Views of those that are not open. */
  views(): Promise<readonly View[]>;
  /** Files came or went. */
  recount(): void;
}

export interface ClosedBooksOptions {
  readonly library: Library;
  readonly files: Files;
  readonly folders: () => readonly string[];
  readonly settings: () => BookSettings;
}

/** Milliseconds after which files are counted again, in case nobody has said that there are others. Nobody waits for that: the last count serves. */
const FRESH = 5000;

export function openClosedBooks({ library, files, folders, settings }: ClosedBooksOptions): ClosedBooks {
  const workshops = new Map<string, Workshop>();
  let counted: { readonly at: number; readonly paths: Promise<readonly string[]> } | undefined;

  const pathsOf = (uris: readonly string[]): readonly string[] => [...new Set(uris.map(library.pathOf))].sort();
  const count = (): Promise<readonly string[]> => {
    const uris = files.books(folders()).catch((): readonly string[] => []);
    counted = { at: performance.now(), paths: uris.then(pathsOf) };
    return uris;
  };
  const paths = (): Promise<readonly string[]> => {
    const before = counted;
    if (before !== undefined && performance.now() - before.at < FRESH) return before.paths;
    void count();
    return (before ?? counted)!.paths;
  };
  const current = (path: string): View => {
    const workshop = workshops.get(path) ?? openWorkshop(path, library, settings());
    workshops.set(path, workshop);
    const view = workshop.view();
    if (view.model.books.every((book) => library.textAt(book.path) === book.text)) return view;
    workshop.touch();
    return workshop.view();
  };
  return {
    paths,
    checked: async () => pathsOf(await files.checked(await count())),
    views: async () => {
      const closed = (await paths()).filter((path) => library.documentAt(path) === undefined);
      for (const path of workshops.keys()) if (!closed.includes(path)) workshops.delete(path);
      let views: readonly View[];
      do {
        views = closed.filter((path) => library.textAt(path) !== undefined).map(current);
        closed.forEach((path) => library.textAt(path));
      } while (await library.look());
      return views;
    },
    recount: () => void (counted = undefined),
  };
}
