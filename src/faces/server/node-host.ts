/** The server's host in Node: files as they lie on the disk now, and `waterlore.json` beside them. */
import { existsSync, realpathSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileProblems } from "../../messages/cli.js";
import type { Opened } from "../../text.js";
import { openCache, usualFolder } from "../node/cache.js";
import { today } from "../day.js";
import { configOf, nearestConfig, type Config } from "../node/config.js";
import { filesMatching, findBooks } from "../node/find-books.js";
import { hintPath, ownPath } from "../node/own-files.js";
import { readBook } from "../node/read.js";
import type { Findings, FolderSettings, Host } from "./host.js";

export function nodeHost(): Host {
  const kept = new Map<string, { readonly stamp: string; readonly opened: Opened }>();
  const settings = new Map<string, { readonly stamp: string; readonly found: Config | { readonly problem: string } | undefined }>();
  const configAt = async (file: string): Promise<Config | { readonly problem: string } | undefined> => {
    const stamp = stampOf(file);
    if (stamp === undefined) return undefined;
    let known = settings.get(file);
    if (known?.stamp !== stamp) settings.set(file, (known = { stamp, found: await readConfig(file) }));
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
      checked: async (uris) => {
        const byConfig = new Map<string | undefined, string[]>();
        const configs = new Map<string, string | undefined>();
        for (const uri of uris) {
          const folder = dirname(pathFrom(uri) ?? "");
          if (!configs.has(folder)) configs.set(folder, nearestConfig(folder));
          const file = configs.get(folder);
          byConfig.set(file, [...(byConfig.get(file) ?? []), uri]);
        }
        const kept = await Promise.all([...byConfig].map(async ([file, some]) => checkedBy(file && (await configAt(file)), some)));
        return kept.flat();
      },
    },
    today: () => today(),
    settingsFor: async (uri): Promise<FolderSettings> => {
      const path = pathFrom(uri);
      const file = path && nearestConfig(dirname(path));
      const found = file === undefined ? undefined : await configAt(file);
      if (found === undefined || "problem" in found) return found ?? {};
      const { severities, day, steps } = found;
      return { severities, day, steps };
    },
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

async function readConfig(file: string): Promise<Config | { readonly problem: string } | undefined> {
  try {
    return await configOf(file);
  } catch (error) {
    return { problem: error instanceof Error ? error.message : String(error) };
  }
}

/** Those that a check goes through which is started beside the settings. */
async function checkedBy(
  config: Config | { readonly problem: string } | "" | undefined,
  uris: readonly string[],
): Promise<readonly string[]> {
  if (!config || "problem" in config) return uris;
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
