/**
 * The recommendation table beside the book: a page of its own for each book, made anew as the book is typed.
 *
 *     book changes ──(a pause)──▶ waterlore/table ──▶ page        the newest question wins; until then the page says it is behind
 *     row chosen in the page ──▶ the title of the pattern that decided, in the book it stands in
 *
 * The page may load only its own script and style, and sends back numbers and names, never text to run.
 */
import {
  CancellationTokenSource,
  Uri,
  ViewColumn,
  window,
  workspace,
  type ExtensionContext,
  type Webview,
  type WebviewPanel,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import { TABLE, type Reason, type TableAnswer, type TableChart, type TableParams } from "../server/requests.js";
import { goTo } from "./go.js";
import { language, tableView } from "./names.js";
import type { FromPage, Remembered, Shown, ToPage } from "./page/messages.js";
import { markup } from "../../render/markup.js";

const say = extensionWords.table;
/** Milliseconds without a change before the table is asked for. */
const PAUSE = 150;

/** What a table is opened at: the rows of a pick that a pattern decides. */
export interface Rows {
  readonly pick: string;
  readonly title: string;
}

/** Returns what shows the table of a book; tables that were open when the window closed come back by themselves. */
export function tablesBeside(context: ExtensionContext, client: BaseLanguageClient): (uri: Uri, rows?: Rows) => void {
  const open = new Map<string, { readonly panel: WebviewPanel; readonly choose: (rows: Rows) => void }>();
  const attach = (panel: WebviewPanel, remembered: Remembered, rows?: Rows): void => {
    open.set(remembered.uri, { panel, choose: run(panel, remembered, context.extensionUri, client, rows) });
    panel.onDidDispose(() => open.delete(remembered.uri));
  };
  context.subscriptions.push(
    window.registerWebviewPanelSerializer(tableView, {
      deserializeWebviewPanel: async (panel, remembered: Remembered | undefined) =>
        remembered === undefined ? panel.dispose() : attach(panel, remembered),
    }),
  );
  return (book, rows) => {
    const uri = book.toString();
    const known = open.get(uri);
    if (!known)
      return attach(
        window.createWebviewPanel(tableView, extensionWords.name, { viewColumn: ViewColumn.Beside, preserveFocus: true }),
        { uri },
        rows,
      );
    known.panel.reveal(undefined, true);
    if (rows) known.choose(rows);
  };
}

/** One page, from now until it is closed; returns what shows some rows in it. */
function run(
  panel: WebviewPanel,
  { uri, pick }: Remembered,
  extension: Uri,
  client: BaseLanguageClient,
  rows: Rows | undefined,
): (rows: Rows) => void {
  let wanted = rows?.pick ?? pick;
  /** Told to the page once. */
  let marked = rows?.title;
  let places: readonly Reason[] = [];
  let newest = new CancellationTokenSource();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const post = (message: ToPage): unknown => panel.webview.postMessage(message);

  const table = (picks: readonly string[], { token }: CancellationTokenSource): Promise<TableAnswer> => {
    const params: TableParams = { textDocument: { uri }, picks };
    return client
      .sendRequest<TableAnswer>(TABLE, params, token)
      .catch((problem: unknown): TableAnswer => ({ problem: problem instanceof Error ? problem.message : String(problem) }));
  };
  // Of one pick at a time: a big book has tables that take a while.
  const ask = async (): Promise<void> => {
    newest.cancel();
    const mine = (newest = new CancellationTokenSource());
    void post({ kind: "working" });
    // It may have been opened again together with the window, before its book.
    await workspace.openTextDocument(Uri.parse(uri)).then(undefined, () => undefined);
    let answer = await table(wanted === undefined ? [] : [wanted], mine);
    const [first] = answer.picks ?? [];
    wanted ??= first?.name;
    // What was wanted may be gone for a moment, while its name is being typed.
    if (mine === newest && first !== undefined && answer.charts?.length === 0)
      answer = await table([answer.picks!.find(({ name }) => name === wanted)?.name ?? first.name], mine);
    if (mine !== newest) return;
    panel.title = say.tab(workspace.asRelativePath(Uri.parse(uri)));
    const [chart] = answer.charts ?? [];
    places = chart?.rows.flatMap(({ because }) => because) ?? [];
    void post(
      chart === undefined
        ? { kind: "nothing", text: answer.problem ?? say.noPicks }
        : { kind: "table", table: { ...shownOf(answer, chart), ...(marked !== undefined && { marked }) } },
    );
    marked = undefined;
  };

  const { webview } = panel;
  webview.options = { enableScripts: true, localResourceRoots: [Uri.joinPath(extension, "page")] };
  webview.html = page(webview, extension, uri);
  panel.iconPath = { light: Uri.joinPath(extension, "media/book-light.svg"), dark: Uri.joinPath(extension, "media/book-dark.svg") };
  const listening = [
    webview.onDidReceiveMessage((message: FromPage) => {
      if (message.kind === "ready") void ask();
      else if (message.kind === "pick") {
        wanted = message.name;
        void ask();
      } else if (places[message.place]) void goTo(places[message.place]!);
    }),
    // A book that this one builds on counts as well.
    workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document.languageId !== language || contentChanges.length === 0) return;
      clearTimeout(timer);
      timer = setTimeout(() => void ask(), PAUSE);
    }),
  ];
  panel.onDidDispose(() => {
    clearTimeout(timer);
    newest.cancel();
    for (const one of listening) one.dispose();
  });
  return ({ pick, title }) => {
    [wanted, marked] = [pick, title];
    void ask();
  };
}

function shownOf({ headline = "", picks = [], legend = [], cautions = [], problem }: TableAnswer, chart: TableChart): Shown {
  let place = 0;
  return {
    title: headline,
    picks,
    pick: chart.pick,
    head: [...chart.head, chart.label],
    notes: legend,
    cautions,
    rows: chart.rows.map(({ cells, answer, status, because }) => ({
      when: cells,
      answer,
      status,
      because: because.map((one) => ({ title: one.title, place: place++ })),
    })),
    ...((chart.problem ?? problem) !== undefined && { warning: chart.problem ?? problem }),
  };
}

function page(webview: Webview, extension: Uri, uri: string): string {
  const file = (name: string): string => webview.asWebviewUri(Uri.joinPath(extension, "page", name)).toString();
  const nonce = Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
  return `<!DOCTYPE html>
<html lang="en">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource}; script-src 'nonce-${nonce}'; base-uri 'none'; form-action 'none'">
  <link rel="stylesheet" href="${markup(file("table.css"))}">
  <title>${markup(extensionWords.commands.showTable)}</title>
</head>
<body>
  <main data-book="${markup(uri)}"></main>
  <script nonce="${nonce}" src="${markup(file("table.js"))}"></script>
</body>
</html>`;
}
