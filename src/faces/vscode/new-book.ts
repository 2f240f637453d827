/**
 * A new book: a file with a name from its first moment, in the folder one is in, so that what it builds on is found.
 *
 *     "Jigs for Alder Pond" ──▶ jigs-for-alder-pond.lore    in the folder asked for, else beside the book being edited, else in the
 *                                                           folder of the window; with none of these, where one says
 *
 * It starts as the book that `waterlore new` writes, with the title given.
 */
import { Uri, window, workspace } from "vscode";
import { extensionWords } from "../../messages/vscode.js";
import { bookFileName, newBookText, usualTitle } from "../files/new-book.js";
import { language } from "./names.js";

const say = extensionWords.newBook;

/** `folder`: where a menu of the explorer was opened. */
export async function newBook(folder?: Uri): Promise<void> {
  const asked = await window.showInputBox({
    title: extensionWords.commands.newBook,
    prompt: say.prompt,
    value: usualTitle,
    ignoreFocusOut: true,
  });
  const title = asked?.trim();
  if (!title) return;
  const uri = await placeFor(bookFileName(title), folder ?? (await folderAtHand()));
  if (uri === undefined) return;
  await workspace.fs.writeFile(uri, new TextEncoder().encode(newBookText(title)));
  await window.showTextDocument(uri, { preview: false });
}

async function folderAtHand(): Promise<Uri | undefined> {
  const book = window.activeTextEditor?.document;
  if (book?.languageId === language && workspace.getWorkspaceFolder(book.uri)) return Uri.joinPath(book.uri, "..");
  const folders = workspace.workspaceFolders ?? [];
  return folders.length > 1 ? (await window.showWorkspaceFolderPick())?.uri : folders[0]?.uri;
}

/** A file that is not there yet. */
async function placeFor(name: string, folder: Uri | undefined): Promise<Uri | undefined> {
  if (folder === undefined)
    return window.showSaveDialog({ defaultUri: Uri.file(name), filters: { [extensionWords.language]: [language] } });
  for (let n = 1; ; n++) {
    const uri = Uri.joinPath(folder, `${n === 1 ? name : `${name}-${n}`}.lore`);
    const taken = await workspace.fs.stat(uri).then(
      () => true,
      () => false,
    );
    if (!taken) return uri;
  }
}
