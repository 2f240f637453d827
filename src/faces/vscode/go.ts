/** Going to places in books: positions are the protocol's, which are the editor's too. */
import { commands, Selection, TextEditorRevealType, Uri, ViewColumn, window, type TextEditor } from "vscode";
import type { Location, Position } from "vscode-languageserver";

/** In the column its book is in, or else beside the table. */
export async function goTo({ uri, range: { start, end } }: Location): Promise<TextEditor> {
  const book = Uri.parse(uri);
  const selection = new Selection(start.line, start.character, end.line, end.character);
  const column =
    window.visibleTextEditors.find(({ document }) => document.uri.toString() === book.toString())?.viewColumn ?? ViewColumn.One;
  const editor = await window.showTextDocument(book, { viewColumn: column, selection });
  editor.revealRange(selection, TextEditorRevealType.InCenterIfOutsideViewport);
  return editor;
}

/** The name there is written over at once, wherever it stands. */
export async function renameAt(uri: string, position: Position): Promise<void> {
  await goTo({ uri, range: { start: position, end: position } });
  await commands.executeCommand("editor.action.rename");
}
