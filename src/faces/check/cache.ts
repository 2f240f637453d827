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
import { nearestAbove } from "../node/paths.js";
import type { Source } from "../node/source.js";
import type { CheckBookOptions, CheckedBook } from "./check-book.js";

export interface Cache {
  /** What came out the last time, if it would come out again. */
  find(source: Source, read: Read, how: CheckBookOptions): CheckedBook | undefined;
  /** To be used for the work: `read` in place of the one given, `keep` when it is done. */
  record(source: Source, read: Read, how: CheckBookOptions): { readonly read: Read; keep(book: CheckedBook): void };
}

interface Entry {
  readonly key: string;
  readonly reads: readonly (readonly [path: string, content: string])[];
  readonly book: CheckedBook;
}

/** A cache in a folder, made when first needed. */
export function openCache(folder: string): Cache {
  const fileOf = ({ path }: Source): string => join(folder, `${digest(resolve(path)).slice(0, 32)}.json`);
  return {
    find(source, read, how) {
      const entry = readEntry(fileOf(source));
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

function keyOf({ path, text }: Source, { on, steps }: CheckBookOptions): string {
  return digest(JSON.stringify([program(), path, text, on, steps]));
}

/** The running program: the bundler names each of its parts by its content. */
function program(): readonly string[] {
  return readdirSync(dirname(fileURLToPath(import.meta.url))).sort();
}

function contentOf(opened: Opened): string {
  return "text" in opened ? digest(opened.text) : opened.problem;
}

function readEntry(file: string): Entry | undefined {
  try {
    const [checksum, json] = readFileSync(file, "utf8").split("\n", 2);
    return json !== undefined && digest(json) === checksum ? (JSON.parse(json) as Entry) : undefined;
  } catch {
    return undefined;
  }
}

function writeEntry(folder: string, file: string, entry: Entry): void {
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
