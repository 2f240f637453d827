/**
 * The files of one folder that a desk may see and change: books and lists in it and below it, and nothing else on the disk.
 *
 *     "rules/pond.lore" ──▶ no hidden part, no way up, no link ──▶ read, or written whole
 */
import { createHash } from "node:crypto";
import { existsSync, lstatSync, mkdirSync, realpathSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { watch } from "chokidar";
import { glob } from "tinyglobby";
import { deskRefusals } from "../../messages/desk.js";
import { byText } from "../../text.js";
import { pathInside } from "../node/paths.js";
import { problemOf } from "../node/problems.js";
import { readBook } from "../node/read.js";
import { createText, replaceText } from "../node/write.js";
import { mayRead, mayWrite } from "./contract.js";

/** `status` is that of HTTP; `problem` a whole sentence. */
interface Refused {
  readonly status: 403 | 404 | 412 | 422;
  readonly problem: string;
}
interface Versioned {
  readonly text: string;
  readonly version: string;
}

export interface ShopFolder {
  readonly name: string;
  files(): Promise<readonly string[]>;
  read(path: string): Versioned | Refused;
  /** `before`: the version that it was made from; undefined: there is no such file yet. */
  write(path: string, text: string, before: string | undefined): { readonly version: string } | Refused;
  /** Tells of every file that changes, until what it returns is called. */
  watch(changed: (path: string) => void): () => Promise<void>;
}

/** Throws where there is no such folder. */
export function openShopFolder(folder: string): ShopFolder {
  const root = realpathSync(folder);
  const outside = (path: string): Refused => ({ status: 403, problem: deskRefusals.outside(path) });
  /** Where it is; undefined where a link is on the way, since it may lead anywhere. */
  const placeOf = (path: string): string | undefined => {
    const parts = path.split("/");
    const places = parts.map((_, end) => join(root, ...parts.slice(0, end + 1)));
    return places.some((place) => lstatSync(place, { throwIfNoEntry: false })?.isSymbolicLink()) ? undefined : places.at(-1);
  };
  const read: ShopFolder["read"] = (path) => {
    const place = mayRead(path) ? placeOf(path) : undefined;
    if (place === undefined) return outside(path);
    if (!existsSync(place)) return { status: 404, problem: deskRefusals.missing(path) };
    const opened = readBook(place);
    return "problem" in opened
      ? { status: 422, problem: deskRefusals.cannotRead(path, opened.problem) }
      : { text: opened.text, version: versionOf(opened.text) };
  };
  return {
    name: root.split(/[\\/]/).findLast((part) => part !== "") ?? root,
    files: async () => {
      const found = await glob(["**/*.lore", "**/*.csv", "**/waterlore.json"], {
        cwd: root,
        ignore: ["**/node_modules/**"],
        onlyFiles: true,
        followSymbolicLinks: false,
      });
      return found.filter((path) => mayRead(path) && placeOf(path) !== undefined).sort(byText);
    },
    read,
    write: (path, text, before) => {
      const place = mayWrite(path) ? placeOf(path) : undefined;
      if (place === undefined) return outside(path);
      if (before === undefined) {
        if (existsSync(place)) return { status: 412, problem: deskRefusals.alreadyThere(path) };
        return written(path, text, made(dirname(place)) ?? createText(place, text));
      }
      const now = read(path);
      if ("problem" in now) return now.status === 404 ? { status: 412, problem: deskRefusals.gone(path) } : now;
      if (now.version !== before) return { status: 412, problem: deskRefusals.changed(path) };
      return written(path, text, now.text === text ? undefined : replaceText(place, now.text, text));
    },
    watch: (changed) => {
      const watcher = watch(root, {
        ignoreInitial: true,
        followSymlinks: false,
        ignored: (place, stats) => {
          const path = pathInside(root, place);
          return path !== undefined && (/(^|\/)(\.|node_modules(\/|$))/.test(path) || (stats?.isFile() === true && !mayRead(path)));
        },
      });
      watcher.on("all", (_, place) => {
        const path = pathInside(root, resolve(place));
        if (path !== undefined && mayRead(path)) changed(path);
      });
      // A folder that cannot be watched is still read and written.
      watcher.on("error", () => undefined);
      return () => watcher.close();
    },
  };
}

/** Makes a folder, and those that it is in. */
function made(folder: string): string | undefined {
  try {
    mkdirSync(folder, { recursive: true });
    return undefined;
  } catch (error) {
    return problemOf(error);
  }
}

function written(path: string, text: string, problem: string | undefined): ReturnType<ShopFolder["write"]> {
  return problem === undefined ? { version: versionOf(text) } : { status: 422, problem: deskRefusals.cannotWrite(path, problem) };
}

/** The same for the same text: as an entity tag of HTTP. */
function versionOf(text: string): string {
  return `"${createHash("sha256").update(text).digest("base64url")}"`;
}
