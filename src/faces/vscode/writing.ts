/**
 * In which books somebody is writing, as the server has it, and where the cursor goes meanwhile, as the server wants to know it.
 *
 *     server ──waterlore/writing──▶ the status bar says "writing"          while that is so: cursor moves ──waterlore/cursor──▶ server
 */
import { EventEmitter, Uri, window, type Event, type ExtensionContext, type Position } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { CURSOR, WRITING, type CursorParams, type WritingParams } from "../server/requests.js";

export interface Writers {
  isWriting(book: Uri): boolean;
  /** Somebody begins, or has come to an end. */
  readonly onDidChange: Event<void>;
}

export function followWriters(context: ExtensionContext, client: BaseLanguageClient): Writers {
  const books = new Set<string>();
  const changed = new EventEmitter<void>();
  const tell = (book: string, position?: Position): void => {
    const params: CursorParams = { uri: client.code2ProtocolConverter.asUri(Uri.parse(book)), position };
    if (books.has(book)) void client.sendNotification(CURSOR, params);
  };
  const elsewhere = (): void => {
    const front = window.activeTextEditor?.document.uri.toString();
    for (const book of books) if (book !== front) tell(book);
  };
  context.subscriptions.push(
    changed,
    client.onNotification(WRITING, ({ uri, writing }: WritingParams) => {
      const book = Uri.parse(uri).toString();
      if (writing) books.add(book);
      else books.delete(book);
      changed.fire();
      elsewhere();
    }),
    window.onDidChangeActiveTextEditor(elsewhere),
    window.onDidChangeTextEditorSelection(({ textEditor, selections }) => tell(textEditor.document.uri.toString(), selections[0]?.active)),
  );
  return { isWriting: (book) => books.has(book.toString()), onDidChange: changed.event };
}
