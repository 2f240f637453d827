/**
 * The page that explains an answer: one for each book, beside it.
 *
 *     told ──▶ waterlore/explain ──▶ page          told otherwise in the page, or the book changes (a pause) ──▶ asked again; the newest wins
 *     a title in the page ──▶ its pattern in the book
 */
import { CancellationTokenSource, Uri, ViewColumn, window, workspace, type ExtensionContext, type WebviewPanel } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import { EXPLAIN, type ExplainAnswer, type ExplainParams, type Reason } from "../server/requests.js";
import { goTo } from "./go.js";
import { answerView, language } from "./names.js";
import type { FromAnswer, RememberedAnswer, ToAnswer, Told } from "./page/messages.js";
import { fillPage } from "./web-page.js";

const say = extensionWords.answer;
/** Milliseconds without a change before it is asked for. */
const PAUSE = 150;

/** Returns what shows the answer of a book for what was told. */
export function answersBeside(context: ExtensionContext, client: BaseLanguageClient): (uri: Uri, given: Told) => void {
  const open = new Map<string, { readonly panel: WebviewPanel; readonly tell: (given: Told) => void }>();
  const attach = (panel: WebviewPanel, remembered: RememberedAnswer): void => {
    open.set(remembered.uri, { panel, tell: run(panel, remembered, context.extensionUri, client) });
    panel.onDidDispose(() => open.delete(remembered.uri));
  };
  context.subscriptions.push(
    window.registerWebviewPanelSerializer(answerView, {
      deserializeWebviewPanel: async (panel, remembered: RememberedAnswer | undefined) =>
        remembered === undefined ? panel.dispose() : attach(panel, remembered),
    }),
  );
  return (book, given) => {
    const uri = book.toString();
    const known = open.get(uri);
    if (known) {
      known.panel.reveal(undefined, true);
      known.tell(given);
    } else
      attach(window.createWebviewPanel(answerView, extensionWords.name, { viewColumn: ViewColumn.Beside, preserveFocus: true }), {
        uri,
        given,
      });
  };
}

/** One page, from now until it is closed; returns what tells it something else. */
function run(panel: WebviewPanel, remembered: RememberedAnswer, extension: Uri, client: BaseLanguageClient): (given: Told) => void {
  const { uri } = remembered;
  let { given } = remembered;
  let places: readonly Reason[] = [];
  let change = 0;
  let newest = new CancellationTokenSource();
  let typing: ReturnType<typeof setTimeout> | undefined;
  const post = (message: ToAnswer): unknown => panel.webview.postMessage(message);

  const ask = async (): Promise<void> => {
    newest.cancel();
    const mine = (newest = new CancellationTokenSource());
    void post({ kind: "working" });
    // It may have been opened again together with the window, before its book.
    await workspace.openTextDocument(Uri.parse(uri)).then(undefined, () => undefined);
    const params: ExplainParams = { textDocument: { uri }, given };
    const {
      parts,
      because = [],
      problem,
    } = await client
      .sendRequest<ExplainAnswer>(EXPLAIN, params, mine.token)
      .catch((error: unknown): ExplainAnswer => ({ problem: error instanceof Error ? error.message : String(error) }));
    if (mine !== newest) return;
    if (parts === undefined) return void post({ kind: "problem", text: problem ?? "", change });
    places = because;
    void post({ kind: "answer", parts, given, titles: because.map(({ title }) => title), change });
  };

  fillPage({ panel, extension, name: "answer", title: say.heading, book: uri });
  panel.title = say.tab(workspace.asRelativePath(Uri.parse(uri)));
  const listening = [
    panel.webview.onDidReceiveMessage((message: FromAnswer) => {
      if (message.kind === "go") {
        if (places[message.place]) void goTo(places[message.place]!);
        return;
      }
      if (message.kind === "given") ({ given, change } = message);
      void ask();
    }),
    // A book that this one builds on counts as well.
    workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document.languageId !== language || contentChanges.length === 0) return;
      clearTimeout(typing);
      typing = setTimeout(() => void ask(), PAUSE);
    }),
  ];
  panel.onDidDispose(() => {
    clearTimeout(typing);
    newest.cancel();
    for (const one of listening) one.dispose();
  });
  return (told) => {
    given = told;
    void ask();
  };
}
