/**
 * Files that are moved, made and deleted in the editor.
 *
 *     about to be moved ──▶ every `builds on` in the workspace's books, and every path in its waterlore.json, that would lead elsewhere
 *     moved, made, deleted ──▶ looked at anew, for a client that does not watch files
 */
import {
  type Connection,
  type FileOperationRegistrationOptions,
  type ServerCapabilities,
  type TextEdit,
  type WorkspaceEdit,
} from "vscode-languageserver";
import { URI, Utils } from "vscode-uri";
import { tidyPath } from "../../paths.js";
import { mendedPaths, namedIn, type Move, type Named } from "../../service/moves.js";
import { lineMap } from "../../text.js";
import { CONFIGURATION, pathsIn } from "../files/configuration.js";
import { textEdit } from "./convert.js";
import type { Files } from "./host.js";
import type { Library } from "./library.js";

export interface FileOperationOptions {
  readonly library: Library;
  readonly files: Pick<Files, "known" | "look">;
  /** URIs of the folders of the workspace. */
  readonly folders: () => readonly string[];
  /** Paths of all books, in the workspace and open. */
  readonly books: () => Promise<readonly string[]>;
  /** Files came, went, or changed. */
  readonly changed: (uris: readonly string[]) => void;
  readonly fault: (what: string, error: unknown) => void;
}

const watched: FileOperationRegistrationOptions = {
  filters: [{ pattern: { glob: "**/*.{lore,json}", matches: "file" } }, { pattern: { glob: "**/*", matches: "folder" } }],
};
export const fileOperations: NonNullable<ServerCapabilities["workspace"]>["fileOperations"] = {
  willRename: watched,
  didRename: watched,
  didCreate: watched,
  didDelete: watched,
};

export function bindFileOperations(connection: Connection, options: FileOperationOptions): void {
  const { library, books, changed, fault } = options;
  connection.workspace.onWillRenameFiles(async ({ files }): Promise<WorkspaceEdit | null> => {
    try {
      return await mended(files.map(({ oldUri, newUri }) => ({ from: keyOf(oldUri), to: keyOf(newUri) })));
    } catch (error) {
      fault("move", error);
      return null;
    }
  });
  connection.workspace.onDidRenameFiles(({ files }) => changed(files.flatMap(({ oldUri, newUri }) => [oldUri, newUri])));
  connection.workspace.onDidCreateFiles(({ files }) => changed(files.map(({ uri }) => uri)));
  connection.workspace.onDidDeleteFiles(({ files }) => changed(files.map(({ uri }) => uri)));

  const mended = async (moves: readonly Move[]): Promise<WorkspaceEdit> => {
    const changes: Record<string, TextEdit[]> = {};
    const paths = await books();
    do for (const path of paths) library.textAt(path);
    while (await library.look());
    const [first] = options.folders();
    const keys = new Map(paths.map((path) => [keyOf(library.uriOf(path), first), path]));
    const isThere = (key: string): boolean =>
      keys.has(key) ||
      (first !== undefined && library.textAt(library.pathOf(URI.parse(first).with({ path: key }).toString())) !== undefined);
    const put = (uri: string, text: string, mended: readonly Named[]): void => {
      const lines = lineMap(text);
      const edits = mended.map(({ range, path }) => textEdit(lines, { range, text: path }));
      if (edits.length > 0) changes[uri] = edits;
    };
    for (const [key, path] of keys) {
      const text = library.textAt(path);
      if (text === undefined) continue;
      const named = namedIn(text, library.parsedAt(path, text).tree);
      put(library.uriOf(path), text, mendedPaths(key, named, moves, isThere));
    }
    for (const uri of settingsFor(keys.keys(), options.folders())) {
      if (options.files.known(uri) === undefined) await options.files.look(uri);
      const opened = options.files.known(uri);
      if (opened === undefined || !("text" in opened)) continue;
      // Folders and patterns are there, as far as anyone knows.
      const mended = mendedPaths(keyOf(uri), await pathsIn(opened.text), moves, () => true);
      put(
        uri,
        opened.text,
        mended.map(({ range, path }) => ({ range, path: JSON.stringify(path).slice(1, -1) })),
      );
    }
    return { changes };
  };
}

/** A path from the top. A book without a file is as good as in the first folder. */
function keyOf(uri: string, folder?: string): string {
  const { scheme, path } = URI.parse(uri);
  return tidyPath(scheme === "untitled" && folder !== undefined ? `${keyOf(folder)}/${path}` : `/${path}`);
}

/** Where settings may lie: in the folders of the workspace, and in those of their books. */
function settingsFor(books: Iterable<string>, folders: readonly string[]): readonly string[] {
  const found = new Set<string>();
  for (const root of folders) {
    const top = keyOf(root);
    const beside = (folder: string): unknown =>
      found.add(Utils.joinPath(URI.parse(root), folder.slice(top.length), CONFIGURATION).toString());
    beside(top);
    for (const book of books)
      for (let folder = book; folder.startsWith(`${top}/`);) {
        folder = folder.slice(0, folder.lastIndexOf("/"));
        beside(folder);
      }
  }
  return [...found];
}
