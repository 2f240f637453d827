/**
 * What the desk in a browser and the program that serves it say to each other, over HTTP:
 *
 *     GET /files ─────────────▶ every file of the folder that a desk may see
 *     GET /file/rules/a.lore ─▶ its text; `ETag` is its version
 *     PUT /file/rules/a.lore ─▶ replaces it whole: `If-Match` names the version it was made from, `If-None-Match: *` says it is new
 *     GET /changes ───────────▶ server-sent events: a file has changed
 *
 * A version that is no longer so is answered with 412, and nothing is written.
 */
export const routes = { files: "/files", file: "/file/", changes: "/changes" } as const;

export interface FileList {
  /** What the folder is called. */
  readonly folder: string;
  /** Paths from the folder, with forward slashes, in order. */
  readonly files: readonly string[];
}

/** The body of every refusal: a whole sentence. */
export interface Refusal {
  readonly problem: string;
}

/** The endings of all that a desk reads and writes. */
const endings = [".lore", ".csv"] as const;
/** What it reads and does not write. */
const settings = "waterlore.json";

/** Whether a desk may see a file: a path from the folder with nothing hidden, upward or of another system in it. */
export function mayRead(path: string): boolean {
  return mayWrite(path) || (isPlain(path) && path.split("/").at(-1) === settings);
}

export function mayWrite(path: string): boolean {
  return isPlain(path) && endings.some((ending) => path.endsWith(ending) && !path.endsWith(`/${ending}`));
}

/** A path as it stands in an address, and back; `decodePath` throws where it is none. */
export function encodePath(path: string): string {
  return path.split("/").map(encodeURIComponent).join("/");
}
export function decodePath(address: string): string {
  return address.split("/").map(decodeURIComponent).join("/");
}

export function isBook(path: string): boolean {
  return path.endsWith(".lore");
}

function isPlain(path: string): boolean {
  // Control characters, and what separates names or drives on some system.
  return (
    !/[\u0000-\u001f\\:]/.test(path) && path.split("/").every((part) => part !== "" && !part.startsWith(".") && part !== "node_modules")
  );
}
