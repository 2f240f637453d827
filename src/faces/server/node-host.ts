/** The server's host in Node: files as they lie on the disk now. */
import { existsSync, realpathSync, statSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileProblems } from "../../messages/cli.js";
import type { Opened } from "../../text.js";
import { today } from "../day.js";
import { findBooks } from "../node/find-books.js";
import { hintPath, ownPath } from "../node/own-files.js";
import { readBook } from "../node/read.js";
import type { Host } from "./host.js";

export function nodeHost(): Host {
  const kept = new Map<string, { readonly stamp: string; readonly opened: Opened }>();
  return {
    files: {
      known: (uri) => {
        const path = pathFrom(uri);
        if (path === undefined) return { problem: fileProblems.byCode["ENOENT"]! };
        const stamp = stampOf(path);
        let file = kept.get(path);
        if (file === undefined || stamp === undefined || file.stamp !== stamp)
          kept.set(path, (file = { stamp: stamp ?? "", opened: readBook(path) }));
        return file.opened;
      },
      look: () => Promise.resolve(),
      forget: (uri) => void kept.delete(pathFrom(uri) ?? ""),
      real: (uri) => {
        const path = pathFrom(uri);
        try {
          return path === undefined ? uri : pathToFileURL(realpathSync.native(path)).href;
        } catch {
          return uri;
        }
      },
      books: async (folders) => {
        const paths = folders.flatMap((uri) => pathFrom(uri) ?? []).filter((path) => existsSync(path));
        return (await findBooks(paths)).books.map((path) => pathToFileURL(path).href);
      },
    },
    today: () => today(),
    hintPage: (code) => {
      const page = ownPath(hintPath(code));
      return page !== undefined && existsSync(page) ? pathToFileURL(page).href : undefined;
    },
    pause: () => new Promise((done) => void setImmediate(done)),
  };
}

function pathFrom(uri: string): string | undefined {
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
}

/** Another one for another state of a file; undefined: there is none. */
function stampOf(path: string): string | undefined {
  const { mtimeMs, size, ino } = statSync(path, { throwIfNoEntry: false }) ?? {};
  return mtimeMs === undefined ? undefined : [mtimeMs, size, ino].join(" ");
}
