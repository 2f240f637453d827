/**
 * One text editor for each book that has been opened; all but the one in front are hidden, so that each keeps its place, and what can be
 * undone in it.
 */
import {
  acceptCompletion,
  autocompletion,
  closeBrackets,
  closeBracketsKeymap,
  currentCompletions,
  moveCompletionSelection,
  selectedCompletionIndex,
} from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, indentWithTab } from "@codemirror/commands";
import { lintGutter, nextDiagnostic } from "@codemirror/lint";
import { formatDocument, type LSPClient } from "@codemirror/lsp-client";
import { highlightSelectionMatches, search, searchKeymap } from "@codemirror/search";
import { indentation, indentOnInput } from "./indentation.js";
import { EditorState, type Extension } from "@codemirror/state";
import { drawSelection, EditorView, highlightActiveLine, keymap, lineNumbers, showDialog } from "@codemirror/view";
import type { WorkspaceEdit } from "vscode-languageserver-protocol";
import { deskWords } from "../../../messages/desk.js";
import { isBook } from "../contract.js";
import type { Books } from "./books.js";
import { colors } from "./colors.js";
import { applied, changesIn, editsOf } from "./edits.js";
import { uriOf } from "./language.js";

export interface Editors {
  /** Brings a book to the front, at a place if one is given. */
  show(path: string, at?: { readonly line: number; readonly character: number }): void;
  /** The book in front. */
  front(): string | undefined;
  /** Carries a change out in all books that it is about, none of them saved by it. */
  apply(edit: WorkspaceEdit): void;
  /** The text of a book has been replaced by that of its file. */
  taken(path: string): void;
  forget(path: string): void;
}

export function openEditors(holder: HTMLElement, books: Books, client: LSPClient, commands: { readonly save: () => void }): Editors {
  const views = new Map<string, EditorView>();
  let front: string | undefined;
  const apply: Editors["apply"] = (edit) => {
    for (const [path, edits] of editsOf(edit)) {
      const view = views.get(path);
      if (view) view.dispatch({ changes: changesIn(view.state.doc, edits), userEvent: "input.fix" });
      else {
        const book = books.at(path);
        if (book?.problem === undefined && book) books.write(path, applied(book.text, edits));
      }
    }
  };
  const open = (path: string): EditorView => {
    const language = isBook(path) ? [client.plugin(uriOf(path), "lore"), colors, lintGutter()] : [];
    const view = new EditorView({
      parent: holder,
      state: EditorState.create({
        doc: books.at(path)!.text,
        extensions: [
          EditorState.lineSeparator.of(books.at(path)!.text.includes("\r\n") ? "\r\n" : "\n"),
          usual,
          nonce,
          language,
          EditorView.contentAttributes.of({ "aria-label": deskWords.editorOf(path) }),
          EditorView.updateListener.of(({ docChanged, state }) => {
            if (docChanged) books.write(path, state.sliceDoc());
          }),
          keymap.of([
            { key: "Mod-s", run: () => (commands.save(), true), preventDefault: true },
            { key: "F2", run: (of) => (askForName(of, client, path, apply), true), preventDefault: true },
            { key: "Shift-Alt-f", run: formatDocument },
            { key: "F8", run: nextDiagnostic },
          ]),
        ],
      }),
    });
    views.set(path, view);
    return view;
  };
  return {
    front: () => front,
    show: (path, at) => {
      const view = views.get(path) ?? open(path);
      front = path;
      for (const [other, { dom }] of views) dom.hidden = other !== path;
      view.requestMeasure();
      if (at) {
        const { doc } = view.state;
        const line = doc.line(Math.min(at.line + 1, doc.lines));
        const anchor = Math.min(line.from + at.character, line.to);
        view.dispatch({ selection: { anchor }, effects: EditorView.scrollIntoView(anchor, { y: "center" }) });
        view.focus();
      }
    },
    apply,
    taken: (path) => {
      const view = views.get(path);
      const text = books.at(path)?.text;
      if (view && text !== undefined && view.state.sliceDoc() !== text)
        view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: text } });
    },
    forget: (path) => {
      views.get(path)?.destroy();
      views.delete(path);
      if (front === path) front = undefined;
    },
  };
}

const usual: Extension = [
  lineNumbers(),
  history(),
  drawSelection(),
  highlightActiveLine(),
  highlightSelectionMatches(),
  search({ top: true }),
  closeBrackets(),
  // Enter belongs to whoever types; a suggestion is taken with Tab, or with Enter once one was gone to.
  autocompletion({ selectOnOpen: false, icons: false, interactionDelay: 0 }),
  keymap.of([
    { key: "Tab", run: takeSuggestion },
    ...closeBracketsKeymap,
    ...historyKeymap,
    ...searchKeymap,
    ...defaultKeymap,
    indentWithTab,
  ]),
  EditorView.lineWrapping,
  indentation,
  EditorState.languageData.of(() => [
    { commentTokens: { line: "--" }, wordChars: "-", closeBrackets: { brackets: ["(", '"', "“"], before: ":,) \n\t" }, indentOnInput },
  ]),
];

/** The first suggestion where none was gone to. While suggestions are shown, also old ones that are about to be replaced, Tab is theirs. */
function takeSuggestion(view: EditorView): boolean {
  if (currentCompletions(view.state).length === 0) return false;
  if (selectedCompletionIndex(view.state) === null) moveCompletionSelection(true)(view);
  acceptCompletion(view);
  return true;
}

/** What styles the editor writes into the page are let in by. */
const nonce = EditorView.cspNonce.of(document.querySelector<HTMLElement>("style[nonce]")?.nonce ?? "");

/** Asks for another name of what the cursor is at, and changes it wherever it stands. */
function askForName(view: EditorView, client: LSPClient, path: string, apply: (edit: WorkspaceEdit) => void): void {
  const word = view.state.wordAt(view.state.selection.main.head);
  if (word === null) return;
  if (view.dom.querySelector(".cm-dialog")) return;
  const input = { name: "name", value: view.state.sliceDoc(word.from, word.to) };
  const renamed = async (name: string): Promise<void> => {
    client.sync();
    const at = view.state.doc.lineAt(word.from);
    const edit = await client.request<object, WorkspaceEdit | null>("textDocument/rename", {
      textDocument: { uri: uriOf(path) },
      position: { line: at.number - 1, character: word.from - at.from },
      newName: name,
    });
    if (edit) apply(edit);
  };
  const ask = async (): Promise<void> => {
    const form = await showDialog(view, { label: deskWords.newName, input, focus: true, submitLabel: deskWords.rename }).result;
    const name = (form?.elements.namedItem("name") as HTMLInputElement | null)?.value.trim();
    view.focus();
    if (name) await renamed(name);
  };
  ask().catch(({ message }: { readonly message?: string }) => {
    showDialog(view, { label: message ?? deskWords.cannotRename });
  });
}
