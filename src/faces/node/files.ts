/**
 * All that the command line does with files.
 *
 *     PATHS … ──findBooks──▶ books, in order          a book ──readText──▶ its text, or why it cannot be read
 *
 * Nothing here throws on what it finds on a disk: a problem comes back as the end of a sentence ("there is no such file").
 * Paths go in and out with forward slashes, from the folder the command was given in.
 */
import { randomUUID } from "node:crypto";
import {
  accessSync,
  chmodSync,
  chownSync,
  closeSync,
  constants,
  createReadStream,
  existsSync,
  openSync,
  readSync,
  readdir,
  readdirSync,
  realpath,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  type Dirent,
} from "node:fs";
import { basename, dirname, isAbsolute, join, normalize, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { problems } from "../../messages/cli.js";
import type { Read } from "../../model/books.js";
import { longestBook } from "../../text.js";

export type Opened = { readonly text: string } | { readonly problem: string };

/** Something that was asked for and cannot be had. */
interface Missing {
  readonly path: string;
  readonly problem: string;
}

export interface Found {
  /** Paths of books, each once, in order. */
  readonly books: readonly string[];
  readonly missing: readonly Missing[];
}

/** The name that stands for standard input among paths. */
export const STDIN = "-";

export interface WhereToLook {
  /** The folder from which paths are seen, if not the working folder. */
  readonly from?: string;
  /** Files that are left out, by their whole paths, unless they are named themselves. */
  readonly except?: ReadonlySet<string>;
}

/** Files as they are named, all `.lore` files below a folder, and what a pattern such as `rules/*.lore` matches. */
export async function findBooks(paths: readonly string[], { from, except }: WhereToLook = {}): Promise<Found> {
  const books = new Set<string>();
  const missing: Missing[] = [];
  for (const path of paths) {
    if (path === STDIN) books.add(STDIN);
    else {
      const place = from === undefined ? path : resolve(from, path);
      const found = await booksAt(path, place, from);
      if ("problem" in found) missing.push({ path: from === undefined ? path : tidyPath(place), problem: found.problem });
      else {
        for (const book of found.books) if (found.named || !except?.has(resolve(book))) books.add(tidyPath(book));
        missing.push(...found.closed);
      }
    }
  }
  return { books: [...books].sort(byText), missing };
}

/** Bytes. UTF-8 takes at most three for one of the characters that a book may have. */
export const largestBook = 3 * longestBook;
/** What is read as a whole. */
export const largestFile = 256 * 1024 * 1024;

/** UTF-8 text of a file. Folders, devices, files that are no text and files without end are refused. */
export function readText(path: string, most = largestFile): Opened {
  try {
    const what = statSync(path);
    if (what.isDirectory()) return { problem: problems.folder };
    if (!what.isFile() && !what.isFIFO()) return { problem: problems.noFile };
    const file = openSync(path, "r");
    try {
      return decode(readAll(file, most));
    } finally {
      closeSync(file);
    }
  } catch (error) {
    return { problem: problemOf(error) };
  }
}

/** Text of a book. */
export function readBook(path: string): Opened {
  return path === STDIN ? readStdin(largestBook) : readText(path, largestBook);
}

/** Everything on standard input. */
function readStdin(most = largestFile): Opened {
  try {
    return decode(readAll(0, most));
  } catch (error) {
    return { problem: problemOf(error) };
  }
}

/**
 * The UTF-8 text of a file, or of standard input, piece by piece, refused as `readText` refuses. `failed` makes what is thrown of a
 * problem, whenever it comes up.
 */
export async function* readPieces(path: string, failed: (problem: string) => Error, most = Infinity): AsyncGenerator<string> {
  const decoder = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  let size = 0;
  try {
    if (path !== STDIN) {
      const what = statSync(path);
      if (what.isDirectory()) throw failed(problems.folder);
      if (!what.isFile() && !what.isFIFO()) throw failed(problems.noFile);
    }
    for await (const bytes of (path === STDIN ? process.stdin : createReadStream(path)) as AsyncIterable<Uint8Array>) {
      if (size === 0 && isUtf16(bytes)) throw failed(problems.otherEncoding);
      if (bytes.includes(0)) throw failed(problems.noText);
      size += bytes.length;
      if (size > most) throw failed(problems.tooLarge);
      yield decoder.decode(bytes, { stream: true });
    }
    yield decoder.decode();
  } catch (error) {
    if (error instanceof TypeError && isErrno(error) && error.code === "ERR_ENCODING_INVALID_ENCODED_DATA")
      throw failed(problems.otherEncoding);
    throw isErrno(error) ? failed(problemOf(error)) : error;
  }
}

/**
 * A reader for `resolve` that opens each file once. A file has one path, the first it was reached by, `roots` before all others: through
 * a link, or as `../here/x.lore`, it answers with that.
 */
export function reader(roots: readonly string[] = []): Read {
  const seen = new Map<string, ReturnType<Read>>();
  const paths = new Map<string, string>();
  const firstPath = (path: string): string => {
    const real = realPath(path);
    const first = paths.get(real) ?? path;
    paths.set(real, first);
    return first;
  };
  roots.forEach(firstPath);
  const read: Read = (path) => {
    let answer = seen.get(path);
    if (answer === undefined) {
      const first = firstPath(path);
      answer = first === path ? readBook(path) : { path: first, ...read(first) };
      seen.set(path, answer);
    }
    return answer;
  };
  return read;
}

/** Where a path leads, links followed; the path itself if it leads nowhere. */
function realPath(path: string): string {
  try {
    return realpathSync.native(path);
  } catch {
    return path;
  }
}

/**
 * Replaces a file's text in one step, so that a reader finds the old text or the new and nothing between, whenever this is interrupted.
 * `before` is the text that was read: what somebody else has written since is left alone. Answers with the problem, if there is one.
 */
export function replaceText(path: string, before: string, text: string): string | undefined {
  let aside: string | undefined;
  try {
    const target = realpathSync(path);
    accessSync(target, constants.W_OK);
    const { mode, uid, gid } = statSync(target);
    aside = join(dirname(target), `.${basename(target)}.${randomUUID()}.tmp`);
    writeFileSync(aside, text, { flag: "wx", flush: true });
    chmodSync(aside, mode);
    if (process.getuid?.() === 0) chownSync(aside, uid, gid);
    const now = readText(target);
    if ("text" in now && now.text === text) return undefined;
    if (!("text" in now) || now.text !== before) return problems.changed;
    renameSync(aside, target);
    aside = undefined;
    return undefined;
  } catch (error) {
    return problemOf(error);
  } finally {
    if (aside !== undefined) rmSync(aside, { force: true });
  }
}

/** Writes a file that is not there yet. Answers with the problem, if there is one. */
export function createText(path: string, text: string): string | undefined {
  try {
    writeFileSync(path, text, { flag: "wx" });
    return undefined;
  } catch (error) {
    return isErrno(error) && error.code === "ENOENT" ? problems.noFolder : problemOf(error);
  }
}

/** Writes a file, whether it is there already or not; one that holds the text already is left alone. Answers with the problem, if there is one. */
export function saveText(path: string, text: string): string | undefined {
  if (!existsSync(path)) return createText(path, text);
  const before = readText(path);
  if ("problem" in before) return before.problem;
  return before.text === text ? undefined : replaceText(path, before.text, text);
}

/** A file of Waterlore itself, found from the package's own folder, wherever the running code stands in it. */
export function ownFile(path: string): Opened {
  return readText(join(ownFolder(), path));
}

/** Where a file of Waterlore itself is; undefined if its folder cannot be told. */
export function ownPath(path: string): string | undefined {
  try {
    return join(ownFolder(), path);
  } catch {
    return undefined;
  }
}

/** The version of Waterlore itself. */
export function version(): string {
  const manifest = ownFile("package.json");
  const found: unknown = "text" in manifest ? (JSON.parse(manifest.text) as { readonly version?: unknown }).version : undefined;
  return typeof found === "string" ? found : "";
}

/** Names of the files in a folder of Waterlore itself. */
export function ownFiles(folder: string): readonly string[] {
  return readdirSync(join(ownFolder(), folder)).sort(byText);
}

/** A path as it is shown: forward slashes, from the current folder where the file is below it. */
export function tidyPath(path: string): string {
  const inside = relative(process.cwd(), resolve(path));
  const shown = inside !== "" && !isAbsolute(inside) && inside.split(sep)[0] !== ".." ? inside : normalize(path);
  return shown.split(sep).join("/");
}

/** The same order everywhere, whatever the language of the machine. */
export function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Whole paths of all files that some pattern matches, or that lie in a folder that one matches. */
export async function filesMatching(patterns: readonly string[], from: string): Promise<ReadonlySet<string>> {
  return new Set((await glob(patterns, from)).files.map((file) => resolve(from, file)));
}

interface FoundBooks {
  readonly books: readonly string[];
  /** By its own name. */
  readonly named: boolean;
  /** Folders on the way that could not be looked into, and links to books that lead nowhere. */
  readonly closed: readonly Missing[];
}

async function booksAt(path: string, place: string, from = "."): Promise<FoundBooks | { readonly problem: string }> {
  if (existsSync(place)) {
    try {
      if (!statSync(place).isDirectory()) return { books: [place], named: true, closed: [] };
    } catch (error) {
      return { problem: problemOf(error) };
    }
    const { files, closed } = await glob(["**/*.lore"], place);
    return files.length + closed.length > 0
      ? { books: files.map((book) => join(place, book)), named: false, closed }
      : { problem: problems.noBooks };
  }
  const { isDynamicPattern } = await import("tinyglobby");
  if (!isDynamicPattern(path)) return { books: [place], named: true, closed: [] };
  const { files, closed } = await glob([path.split(sep).join("/")], from);
  return files.length + closed.length > 0
    ? { books: files.map((book) => join(from, book)), named: false, closed }
    : { problem: problems.noMatch };
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
      if (error) closed.push({ path: tidyPath(path), problem: problemOf(error) });
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

/** Everything up to the end of a file; undefined if that is more than `most` bytes. */
function readAll(file: number, most: number): Uint8Array | undefined {
  const parts: Buffer[] = [];
  for (let size = 0; size <= most;) {
    const part = Buffer.allocUnsafe(Math.min(1 << 16, most + 1 - size));
    const count = readSync(file, part);
    if (count === 0) return Buffer.concat(parts);
    parts.push(part.subarray(0, count));
    size += count;
  }
  return undefined;
}

/** UTF-8 bytes as text; none: there were too many of them. */
export function decode(bytes: Uint8Array | undefined): Opened {
  if (bytes === undefined) return { problem: problems.tooLarge };
  if (isUtf16(bytes)) return { problem: problems.otherEncoding };
  if (bytes.includes(0)) return { problem: problems.noText };
  try {
    return { text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { problem: problems.otherEncoding };
  }
}

function isUtf16(bytes: Uint8Array): boolean {
  return (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
}

function isErrno(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && "code" in error;
}

/** What went wrong with a file, as the end of a sentence. */
export function problemOf(error: unknown): string {
  const code = isErrno(error) ? (error.code ?? "") : "";
  return problems.byCode[code] ?? problems.other(code);
}

function ownFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "package.json"))) folder = dirname(folder);
  return folder;
}
