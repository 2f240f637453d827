/**
 * Results of checks, kept on disk while nothing that they rest on has changed.
 *
 *     one file a book:   checksum of the rest
 *                        { key: what was asked,  reads: what it builds on and the content of each,  book: what came out }
 *
 * A result is used again only if program, day, steps and every text are the same, whatever the clock of the disk says. A file that is
 * cut short or was changed by anyone else fails its checksum and is not used. A cache that cannot be written costs time, nothing else.
 */
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { Read } from "../../model/books.js";
import type { Opened } from "../../text.js";
import { nearestAbove } from "./paths.js";
import type { Source } from "./source.js";

export interface Cache<Book> {
  /** What came out the last time, if it would come out again. */
  find(source: Source, read: Read, how: How): Book | undefined;
  /** To be used for the work: `read` in place of the one given, `keep` when it is done. */
  record(source: Source, read: Read, how: How): { readonly read: Read; keep(book: Book): void };
}

/** What a result depends on beside the texts: the day to look at the book as of, and how long to try. */
interface How {
  readonly on: string;
  readonly steps?: number;
}

interface Entry<Book> {
  readonly key: string;
  readonly reads: readonly (readonly [path: string, content: string])[];
  readonly book: Book;
}

/** A cache in a folder, made when first needed. */
export function openCache<Book>(folder: string): Cache<Book> {
  const fileOf = ({ path }: Source): string => join(folder, `${digest(resolve(path)).slice(0, 32)}.json`);
  return {
    find(source, read, how) {
      const entry = readEntry<Book>(fileOf(source));
      if (entry?.key !== keyOf(source, how)) return undefined;
      return entry.reads.every(([path, content]) => contentOf(read(path)) === content) ? entry.book : undefined;
    },
    record(source, read, how) {
      const reads = new Map<string, string>();
      return {
        read(path) {
          const opened = read(path);
          reads.set(path, contentOf(opened));
          return opened;
        },
        keep: (book) => writeEntry(folder, fileOf(source), { key: keyOf(source, how), reads: [...reads], book }),
      };
    },
  };
}

/** Beside the packages of the project that the folder belongs to; none if there are none. A program that runs from its sources keeps nothing: they may change under it. */
export function usualFolder(from = process.cwd()): string | undefined {
  if (import.meta.url.endsWith(".ts")) return undefined;
  const packages = nearestAbove(from, "node_modules");
  return packages && join(packages, ".cache", "waterlore");
}

function keyOf({ path, text }: Source, { on, steps }: How): string {
  return digest(JSON.stringify([program(), path, text, on, steps]));
}

let known: readonly string[] | undefined;

/** The running program: the bundler names each of its parts by its content, but one that is a single file. */
function program(): readonly string[] {
  const own = fileURLToPath(import.meta.url);
  return (known ??= [...readdirSync(dirname(own)).sort(), digest(readFileSync(own, "utf8"))]);
}

function contentOf(opened: Opened): string {
  return "text" in opened ? digest(opened.text) : opened.problem;
}

function readEntry<Book>(file: string): Entry<Book> | undefined {
  try {
    const [checksum, json] = readFileSync(file, "utf8").split("\n", 2);
    return json !== undefined && digest(json) === checksum ? (JSON.parse(json) as Entry<Book>) : undefined;
  } catch {
    return undefined;
  }
}

function writeEntry(folder: string, file: string, entry: Entry<unknown>): void {
  const json = JSON.stringify(entry);
  const aside = `${file}.${process.pid}.tmp`;
  try {
    mkdirSync(folder, { recursive: true });
  } catch {
    return;
  }
  try {
    writeFileSync(aside, `${digest(json)}\n${json}\n`);
    renameSync(aside, file);
  } catch {
    rmSync(aside, { force: true });
  }
}

function digest(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
