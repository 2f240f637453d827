/** The files of Waterlore itself, found from the package's own folder, wherever the running code stands in it. */
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { commandRefusals } from "../../messages/cli.js";
import { byText, type Opened } from "../../text.js";
import { CannotRun } from "./exit.js";
import { nearestAbove } from "./paths.js";
import { readText } from "./read.js";

const HINTS = "src/hints";

/** A file of Waterlore itself. */
export function ownFile(path: string): Opened {
  return readText(join(ownFolder(), path));
}

/** A file that `npm run build` makes; where there is none, throws `CannotRun` with a sentence. */
export function builtFile(path: string, refusal: string): string {
  const opened = ownFile(path);
  if ("problem" in opened) throw new CannotRun(refusal);
  return opened.text;
}

/** Where a file of Waterlore itself is; undefined if its folder cannot be told. */
export function ownPath(path: string): string | undefined {
  try {
    return join(ownFolder(), path);
  } catch {
    return undefined;
  }
}

/** The version of Waterlore itself. */
export function version(): string {
  const manifest = ownFile("package.json");
  const found: unknown = "text" in manifest ? (JSON.parse(manifest.text) as { readonly version?: unknown }).version : undefined;
  return typeof found === "string" ? found : "";
}

/** Names of all kinds of findings that have a page, in order. */
export function hintCodes(): readonly string[] {
  return readdirSync(join(ownFolder(), HINTS))
    .sort(byText)
    .filter((file) => file.endsWith(".md"))
    .map((file) => file.slice(0, -".md".length));
}

/** The page about a kind of finding, in Markdown; throws `CannotRun` where there is none. */
export function pageOf(code: string): string {
  const path = hintPath(code);
  const page = ownFile(path);
  if ("problem" in page) throw new CannotRun(commandRefusals.cannotRead(path, page.problem));
  return page.text;
}

/** Where that page is, from the package's folder. */
export function hintPath(code: string): string {
  return `${HINTS}/${code}.md`;
}

function ownFolder(): string {
  return dirname(nearestAbove(dirname(fileURLToPath(import.meta.url)), "package.json")!);
}
