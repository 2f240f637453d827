/**
 * Which books the words of a command mean.
 *
 *     PATHS … ──findBooks──▶ books, in order, and what is missing, with the end of a sentence that says why
 */
import { existsSync, readdir, realpath, statSync, type Dirent } from "node:fs";
import { join, resolve } from "node:path";
import { fileProblems, commandRefusals } from "../../messages/cli.js";
import { byText } from "../../text.js";
import { CannotRun } from "./exit.js";
import { shownPath, slashed } from "./paths.js";
import { problemOf } from "./problems.js";
import { STDIN } from "./read.js";

/** Something that was asked for and cannot be had. */
interface Missing {
  readonly path: string;
  readonly problem: string;
}

export interface FoundBooks {
  /** Paths of books, each once, in order. */
  readonly books: readonly string[];
  readonly missing: readonly Missing[];
}

export interface WhereToLook {
  /** The folder from which paths are seen, if not the working folder. */
  readonly from?: string;
  /** Files that are left out, by their whole paths, unless they are named themselves. */
  readonly except?: ReadonlySet<string>;
}

/** Files as they are named, all `.lore` files below a folder, and what a pattern such as `rules/*.lore` matches. */
export async function findBooks(paths: readonly string[], { from, except }: WhereToLook = {}): Promise<FoundBooks> {
  const books = new Set<string>();
  const missing: Missing[] = [];
  for (const path of paths) {
    if (path === STDIN) books.add(STDIN);
    else {
      const place = from === undefined ? path : resolve(from, path);
      const found = await booksAt(path, place, from);
      if ("problem" in found) missing.push({ path: from === undefined ? path : shownPath(place), problem: found.problem });
      else {
        for (const book of found.books) if (found.named || !except?.has(resolve(book))) books.add(shownPath(book));
        missing.push(...found.closed);
      }
    }
  }
  return { books: [...books].sort(byText), missing };
}

/** The same, all of them; throws `CannotRun` where any is missing. */
export async function booksOrStop(paths: readonly string[]): Promise<readonly string[]> {
  const { books, missing } = await findBooks(paths);
  if (missing.length > 0) throw new CannotRun(missing.map(({ path, problem }) => commandRefusals.cannotRead(path, problem)).join("\n"));
  return books;
}

/** Whole paths of all files that some pattern matches, or that lie in a folder that one matches. */
export async function filesMatching(patterns: readonly string[], from: string): Promise<ReadonlySet<string>> {
  return new Set((await glob(patterns, from)).files.map((file) => resolve(from, file)));
}

interface BooksAt {
  readonly books: readonly string[];
  /** By its own name. */
  readonly named: boolean;
  /** Folders on the way that could not be looked into, and links to books that lead nowhere. */
  readonly closed: readonly Missing[];
}

async function booksAt(path: string, place: string, from = "."): Promise<BooksAt | { readonly problem: string }> {
  if (existsSync(place)) {
    try {
      if (!statSync(place).isDirectory()) return { books: [place], named: true, closed: [] };
    } catch (error) {
      return { problem: problemOf(error) };
    }
    const { files, closed } = await glob(["**/*.lore"], place);
    return files.length + closed.length > 0
      ? { books: files.map((book) => join(place, book)), named: false, closed }
      : { problem: fileProblems.noBooks };
  }
  const { isDynamicPattern } = await import("tinyglobby");
  if (!isDynamicPattern(path)) return { books: [place], named: true, closed: [] };
  const { files, closed } = await glob([slashed(path)], from);
  return files.length + closed.length > 0
    ? { books: files.map((book) => join(from, book)), named: false, closed }
    : { problem: fileProblems.noMatch };
}

async function glob(
  patterns: readonly string[],
  cwd: string,
): Promise<{ readonly files: readonly string[]; readonly closed: readonly Missing[] }> {
  const tinyglobby = await import("tinyglobby");
  const closed: Missing[] = [];
  const wantsBooks = patterns.some((pattern) => /(\.lore|[*}\])])$/.test(pattern));
  // The search goes on where a folder cannot be read or a link leads nowhere, and says nothing.
  const noting =
    <T>(path: string, done: (error: NodeJS.ErrnoException | null, found: T) => void) =>
    (error: NodeJS.ErrnoException | null, found: T): void => {
      if (error) closed.push({ path: shownPath(path), problem: problemOf(error) });
      done(error, found);
    };
  const look = (
    path: string,
    options: { withFileTypes: true },
    done: (error: NodeJS.ErrnoException | null, entries: Dirent[]) => void,
  ): void => readdir(path, options, noting(path, done));
  const follow = (path: string, done: (error: NodeJS.ErrnoException | null, real: string) => void): void =>
    realpath(path, wantsBooks && path.endsWith(".lore") ? noting(path, done) : done);
  const files = await tinyglobby.glob(patterns, {
    cwd,
    ignore: ["**/node_modules/**"],
    onlyFiles: true,
    fs: { readdir: look as typeof readdir, realpath: follow as typeof realpath },
  });
  return { files, closed: closed.sort((a, b) => byText(a.path, b.path)) };
}
