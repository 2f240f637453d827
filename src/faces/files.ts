/**
 * All that the command line does with files.
 *
 *     PATHS … ──findBooks──▶ books, in order          a book ──readText──▶ its text, or why it cannot be read
 *
 * Nothing here throws on what it finds on a disk: a problem comes back as the end of a sentence ("there is no such file").
 * Paths go in and out with forward slashes, from the folder the command was given in.
 */
import { accessSync, chmodSync, constants, existsSync, readFileSync, readdirSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, isAbsolute, join, normalize, relative, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { problems } from "../messages/cli.js";

export type Opened = { readonly text: string } | { readonly problem: string };

/** Something that was asked for and cannot be had. */
export interface Missing {
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
      else for (const book of found.books) if (found.named || !except?.has(resolve(book))) books.add(tidyPath(book));
    }
  }
  return { books: [...books].sort(byText), missing };
}

/** UTF-8 text of a file. Folders, devices and files that are no text are refused. */
export function readText(path: string): Opened {
  try {
    const what = statSync(path);
    if (what.isDirectory()) return { problem: problems.folder };
    if (!what.isFile() && !what.isFIFO()) return { problem: problems.noFile };
    return decode(readFileSync(path));
  } catch (error) {
    return { problem: problemOf(error) };
  }
}

/** Everything on standard input. */
export function readStdin(): Opened {
  try {
    return decode(readFileSync(0));
  } catch (error) {
    return { problem: problemOf(error) };
  }
}

/** A reader for `resolve` that opens each file once. */
export function reader(): (path: string) => Opened {
  const seen = new Map<string, Opened>();
  return (path) => {
    const known = seen.get(path) ?? readText(path);
    seen.set(path, known);
    return known;
  };
}

/** Replaces a file's text in one step, so that a reader finds the old text or the new and nothing between. Answers with the problem, if there is one. */
export function replaceText(path: string, text: string): string | undefined {
  let aside: string | undefined;
  try {
    const target = realpathSync(path);
    accessSync(target, constants.W_OK);
    aside = join(dirname(target), `.${basename(target)}.${process.pid}.tmp`);
    writeFileSync(aside, text, { flag: "wx" });
    chmodSync(aside, statSync(target).mode);
    renameSync(aside, target);
    return undefined;
  } catch (error) {
    if (aside !== undefined) rmSync(aside, { force: true });
    return problemOf(error);
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
  return "text" in before && before.text === text ? undefined : replaceText(path, text);
}

/** A file of Waterlore itself, found from the package's own folder, wherever the running code stands in it. */
export function ownFile(path: string): Opened {
  return readText(join(ownFolder(), path));
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
  return new Set((await glob(patterns, from)).map((file) => resolve(from, file)));
}

type FoundAt = { readonly books: readonly string[]; /** By its own name. */ readonly named: boolean } | { readonly problem: string };

async function booksAt(path: string, place: string, from = "."): Promise<FoundAt> {
  if (existsSync(place)) {
    try {
      if (!statSync(place).isDirectory()) return { books: [place], named: true };
    } catch (error) {
      return { problem: problemOf(error) };
    }
    const inside = await glob(["**/*.lore"], place);
    return inside.length > 0 ? { books: inside.map((book) => join(place, book)), named: false } : { problem: problems.noBooks };
  }
  const { isDynamicPattern } = await import("tinyglobby");
  if (!isDynamicPattern(path)) return { books: [place], named: true };
  const matches = await glob([path.split(sep).join("/")], from);
  return matches.length > 0 ? { books: matches.map((book) => join(from, book)), named: false } : { problem: problems.noMatch };
}

async function glob(patterns: readonly string[], cwd: string): Promise<readonly string[]> {
  const { glob: search } = await import("tinyglobby");
  return search(patterns, { cwd, ignore: ["**/node_modules/**"], onlyFiles: true });
}

function decode(bytes: Uint8Array): Opened {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return { problem: problems.otherEncoding };
  if (bytes.includes(0)) return { problem: problems.noText };
  try {
    return { text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { problem: problems.otherEncoding };
  }
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
