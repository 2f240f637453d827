/**
 * Text from files and from standard input. Nothing here throws on what it finds on a disk: a problem comes back as the end of a
 * sentence.
 *
 *     a file ──readText──▶ its text, or why it cannot be read          a long one ──readPieces──▶ piece by piece
 */
import { closeSync, createReadStream, openSync, readSync, realpathSync, statSync } from "node:fs";
import { fileProblems } from "../../messages/cli.js";
import type { Read } from "../../model/books.js";
import type { Opened } from "../../text.js";
import { decode, isUtf16, largestBook } from "../files/decode.js";
import { isErrno, problemOf } from "./problems.js";

/** The name that stands for standard input among paths. */
export const STDIN = "-";

/** What is read as a whole. */
export const largestFile = 256 * 1024 * 1024;

/** UTF-8 text of a file. Folders, devices, files that are no text and files without end are refused. */
export function readText(path: string, most = largestFile): Opened {
  try {
    const what = statSync(path);
    if (what.isDirectory()) return { problem: fileProblems.folder };
    if (!what.isFile() && !what.isFIFO()) return { problem: fileProblems.noFile };
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
      if (what.isDirectory()) throw failed(fileProblems.folder);
      if (!what.isFile() && !what.isFIFO()) throw failed(fileProblems.noFile);
    }
    for await (const bytes of (path === STDIN ? process.stdin : createReadStream(path)) as AsyncIterable<Uint8Array>) {
      if (size === 0 && isUtf16(bytes)) throw failed(fileProblems.otherEncoding);
      if (bytes.includes(0)) throw failed(fileProblems.noText);
      size += bytes.length;
      if (size > most) throw failed(fileProblems.tooLarge);
      yield decoder.decode(bytes, { stream: true });
    }
    yield decoder.decode();
  } catch (error) {
    if (error instanceof TypeError && isErrno(error) && error.code === "ERR_ENCODING_INVALID_ENCODED_DATA")
      throw failed(fileProblems.otherEncoding);
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

/** Everything on standard input. */
function readStdin(most: number): Opened {
  try {
    return decode(readAll(0, most));
  } catch (error) {
    return { problem: problemOf(error) };
  }
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
