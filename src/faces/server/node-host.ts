/** The server's host in Node: files as they lie on the disk now. */
import { existsSync, realpathSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileProblems } from "../../messages/cli.js";
import type { Opened } from "../../text.js";
import { today } from "../day.js";
import { CONFIGURATION } from "../files/configuration.js";
import { openCache, usualFolder } from "../node/cache.js";
import { configOf, type Config } from "../node/config.js";
import { filesMatching, findBooks } from "../node/find-books.js";
import { hintPath, ownPath } from "../node/own-files.js";
import { nearestAbove } from "../node/paths.js";
import { readBook } from "../node/read.js";
import type { Findings, Host } from "./host.js";

export function nodeHost(): Host {
  const kept = new Map<string, { readonly stamp: string; readonly opened: Opened }>();
  const settings = new Map<string, { readonly stamp: string | undefined; readonly found: Promise<Config | undefined> }>();
  const configAt = (file: string): Promise<Config | undefined> => {
    const stamp = stampOf(file);
    let known = settings.get(file);
    // What cannot be read is said where the settings of a book are looked up.
    if (known?.stamp !== stamp || known === undefined)
      settings.set(file, (known = { stamp, found: configOf(file).catch(() => undefined) }));
    return known.found;
  };
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
      lists: async (folders) => {
        const found = await Promise.all(
          folders.flatMap((uri) => pathFrom(uri) ?? []).map((path) => filesMatching(["**/*.csv"], path).catch(() => [])),
        );
        return found
          .flatMap((paths) => [...paths])
          .sort()
          .map((path) => pathToFileURL(path).href);
      },
      checked: async (uris) => {
        const files = new Map<string, string | undefined>();
        const fileFor = (folder: string): string | undefined => {
          if (!files.has(folder)) files.set(folder, nearestAbove(folder, CONFIGURATION));
          return files.get(folder);
        };
        const byFile = new Map<string | undefined, string[]>();
        for (const uri of uris) {
          const file = fileFor(dirname(pathFrom(uri) ?? ""));
          byFile.set(file, [...(byFile.get(file) ?? []), uri]);
        }
        return (await Promise.all([...byFile].map(async ([file, some]) => checkedBy(file && (await configAt(file)), some)))).flat();
      },
    },
    today: () => today(),
    kept: (folder, storage) => {
      const usual = usualFolder(pathFrom(folder)) ?? storage;
      return usual === undefined ? undefined : openCache<Findings>(join(usual, "editor"));
    },
    hintPage: (code) => {
      const page = ownPath(hintPath(code));
      return page !== undefined && existsSync(page) ? pathToFileURL(page).href : undefined;
    },
    pause: () => new Promise((done) => void setImmediate(done)),
  };
}

/** Those that a check goes through which is started beside the settings. */
async function checkedBy(config: Config | "" | undefined, uris: readonly string[]): Promise<readonly string[]> {
  if (!config) return uris;
  const { folder, books, except: patterns = [] } = config;
  const except = patterns.length > 0 ? await filesMatching(patterns, folder) : new Set<string>();
  const listed = books?.length ? new Set((await findBooks(books, { from: folder, except })).books.map((path) => resolve(path))) : undefined;
  return uris.filter((uri) => {
    const path = pathFrom(uri) ?? "";
    return listed === undefined ? !except.has(path) : listed.has(path);
  });
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
