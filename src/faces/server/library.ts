/**
 * All texts at hand: what is open in the editor goes before what lies in files, saved or not.
 *
 *     file:///shop/rules/ramp.lore ──pathOf──▶ rules/ramp.lore         in findings and in `builds on`, paths are from the first folder
 *     open buffers ─┐
 *     files ────────┴─reader──▶ Read, for the core                    remembering which books were asked for, there or not
 *
 * Where files have to be asked for (in a web worker), one that nobody has looked at yet reads as a problem, and stands in `wanted`.
 */
import type { TextDocument } from "vscode-languageserver-textdocument";
import { URI } from "vscode-uri";
import { serverWords } from "../../messages/server.js";
import type { Read } from "../../model/books.js";
import { tidyPath } from "../../paths.js";
import { parse, type Parsed } from "../../syntax/parse.js";
import type { Opened } from "../../text.js";
import type { Files } from "./host.js";

export interface Library {
  /** Paths are from here; the first book's folder, if nobody has said. */
  settle(folder: string | undefined): void;
  open(document: TextDocument): string;
  /** The path of what was open. */
  close(uri: string): string;
  pathOf(uri: string): string;
  uriOf(path: string): string;
  documentAt(path: string): TextDocument | undefined;
  /** The text now; undefined: there is none, or nobody has looked yet. */
  textAt(path: string): string | undefined;
  /** The same, or why there is none. */
  openedAt(path: string): Opened;
  parsedAt(path: string, text: string): Parsed;
  /** `asked` takes the path of each book that is asked for. */
  reader(asked: Set<string>): Read;
  /** Whether a file was asked for in vain. */
  waits(): boolean;
  /** Looks at those that were. True if there were any. */
  look(): Promise<boolean>;
  /** A file has changed. Its path, if that matters: what is open does not depend on its file. */
  changed(uri: string): string | undefined;
}

/** How the path of a book begins that has no file yet. */
const UNTITLED = "untitled:";

/** `looked`: told of each file that has been looked at; whatever was read before that is out of date. */
export function openLibrary(files: Files, looked: (path: string) => void = () => undefined): Library {
  const documents = new Map<string, TextDocument>();
  const parsed = new Map<string, Parsed>();
  /** By where it really is, the path that a file goes by. */
  const named = new Map<string, string>();
  const wanted = new Set<string>();
  let folder: string | undefined;

  const pathOf = (uri: string): string => {
    // A book without a file is as good as in the first folder: it builds on what lies there.
    const { scheme, path } = parsedUri(uri);
    if (scheme === "untitled" && !path.includes("/") && folder !== undefined) return UNTITLED + path;
    const key = keyOf(uri);
    return folder !== undefined && key.startsWith(`${folder}/`) ? key.slice(folder.length + 1) : key;
  };
  const uriOf = (path: string): string =>
    documents.get(path)?.uri ??
    (path.startsWith(UNTITLED) ? path : uriFor(path.startsWith("/") ? path : tidyPath(`${folder ?? ""}/${path}`)));
  /** One path for each file, however it was reached. */
  const properPath = (path: string): string => {
    const uri = uriOf(path);
    const real = files.real(uri);
    const first = named.get(real) ?? pathOf(uri);
    named.set(real, first);
    return first;
  };
  const known = (path: string): Opened => {
    const document = documents.get(path);
    if (document !== undefined) return { text: document.getText() };
    const file = files.known(uriOf(path));
    if (file === undefined) wanted.add(path);
    return file ?? { problem: serverWords.notYet };
  };
  const parsedAt = (path: string, text: string): Parsed => {
    const before = parsed.get(path);
    if (before?.text === text) return before;
    const now = parse(text, path, before);
    parsed.set(path, now);
    return now;
  };
  return {
    settle: (uri) => void (folder = uri === undefined ? undefined : keyOf(uri).replace(/\/$/, "")),
    open: (document) => {
      folder ??= keyOf(document.uri).replace(/\/[^/]*$/, "");
      const path = pathOf(document.uri);
      documents.set(path, document);
      named.set(files.real(document.uri), path);
      return path;
    },
    close: (uri) => {
      const path = pathOf(uri);
      documents.delete(path);
      files.forget(uri);
      return path;
    },
    pathOf,
    uriOf,
    parsedAt,
    documentAt: (path) => documents.get(path),
    textAt: (path) => {
      const found = known(path);
      return "text" in found ? found.text : undefined;
    },
    openedAt: known,
    reader: (asked) => (path) => {
      const proper = properPath(path);
      asked.add(proper);
      const found = known(proper);
      return "problem" in found ? found : { text: found.text, path: proper, parsed: parsedAt(proper, found.text) };
    },
    waits: () => wanted.size > 0,
    look: async () => {
      const paths = [...wanted];
      wanted.clear();
      await Promise.all(paths.map((path) => files.look(uriOf(path))));
      paths.forEach(looked);
      return paths.length > 0;
    },
    changed: (uri) => {
      files.forget(uri);
      const path = named.get(files.real(uri)) ?? pathOf(uri);
      return documents.has(path) ? undefined : path;
    },
  };
}

/** `/shop/ramp.lore`; of what is no file, with its scheme: `/untitled:/Untitled-1`. A path and no URI, since books name each other by paths. */
function keyOf(uri: string): string {
  const { scheme, authority, path } = parsedUri(uri);
  const plain = tidyPath(`/${path}`);
  return scheme === "file" && authority === "" ? plain : `/${scheme}:${authority}${plain}`;
}

function uriFor(key: string): string {
  const [, scheme, authority, path] = /^\/([a-z][\w+.-]+):([^/]*)(\/.*)$/i.exec(key) ?? [undefined, "file", "", key];
  return URI.from({ scheme, authority, path: scheme === "untitled" ? path.slice(1) : path }).toString();
}

/** Whatever a client may send: what is no URI stands for itself. */
function parsedUri(uri: string): Pick<URI, "scheme" | "authority" | "path"> {
  try {
    return URI.parse(uri);
  } catch {
    return { scheme: "file", authority: "", path: uri };
  }
}
