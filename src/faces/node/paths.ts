/** Paths as they go in and out of the command line: forward slashes, from the folder that the command was given in. */
import { existsSync } from "node:fs";
import { dirname, isAbsolute, join, normalize, relative, resolve, sep } from "node:path";

/** A path as it is shown: from the current folder where the file is below it. */
export function shownPath(path: string): string {
  return pathInside(process.cwd(), path) ?? slashed(normalize(path));
}

/** A path from a folder that it lies in; undefined if it does not, or is that folder. */
export function pathInside(folder: string, path: string): string | undefined {
  const inside = relative(folder, resolve(path));
  return inside === "" || isAbsolute(inside) || inside.split(sep)[0] === ".." ? undefined : slashed(inside);
}

export function slashed(path: string): string {
  return path.split(sep).join("/");
}

/** Where a file or folder of that name is, in a folder or in the nearest one above it. */
export function nearestAbove(from: string, name: string): string | undefined {
  for (let folder = resolve(from); ; folder = dirname(folder)) {
    const place = join(folder, name);
    if (existsSync(place)) return place;
    if (folder === dirname(folder)) return undefined;
  }
}
