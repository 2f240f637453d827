/**
 * The recommendation table beside the book: a page of its own for each book, made anew as the book is typed.
 *
 *     book changes ──(a pause)──▶ waterlore/table ──▶ page        the newest question wins; until then the page says it is behind
 *     cursor moves ──▶ waterlore/subject ──▶ the pick that is written about is shown, and what its pattern decides is marked
 *     row chosen in the page ──▶ the title of the pattern that decided, in the book it stands in
 */
import {
  CancellationTokenSource,
  Uri,
  ViewColumn,
  window,
  workspace,
  type ExtensionContext,
  type TextEditor,
  type WebviewPanel,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import {
  SUBJECT,
  TABLE,
  type Reason,
  type SubjectAnswer,
  type SubjectParams,
  type TableAnswer,
  type TableChart,
  type TableParams,
} from "../server/requests.js";
import { goTo } from "./go.js";
import { language, tableView } from "./names.js";
import type { FromPage, Remembered, Shown, ToPage } from "./page/messages.js";
import { fillPage } from "./web-page.js";

const say = extensionWords.table;
/** Milliseconds without a change before the table is asked for, and without a move of the cursor before it follows. */
const PAUSE = 150;
const GLANCE = 60;
/** Rows that reach the page in one message: so many are set in the time of a look. */
const AT_ONCE = 250;

/** What a table is opened at: the rows of a pick that a pattern decides. */
export interface Rows {
  readonly pick: string;
  readonly title: string;
}

interface Surroundings {
  readonly context: ExtensionContext;
  readonly client: BaseLanguageClient;
  /** Whether a book has a table of its own. */
  readonly isShown: (uri: string) => boolean;
}

/** Returns what shows the table of a book; tables that were open when the window closed come back by themselves. */
export function tablesBeside(context: ExtensionContext, client: BaseLanguageClient): (uri: Uri, rows?: Rows) => void {
  const open = new Map<string, { readonly panel: WebviewPanel; readonly choose: (rows: Rows) => void }>();
  const attach = (panel: WebviewPanel, remembered: Remembered, rows?: Rows): void => {
    open.set(remembered.uri, { panel, choose: run(panel, remembered, { context, client, isShown: (uri) => open.has(uri) }, rows) });
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
  { context, client, isShown }: Surroundings,
  rows: Rows | undefined,
): (rows: Rows) => void {
  let wanted = rows?.pick ?? pick;
  let marked = rows?.title;
  let places: readonly Reason[] = [];
  let newest = new CancellationTokenSource();
  let typing: ReturnType<typeof setTimeout> | undefined;
  let moving: ReturnType<typeof setTimeout> | undefined;
  const post = (message: ToPage): unknown => panel.webview.postMessage(message);
  const mark = (): unknown => post({ kind: "mark", ...(marked !== undefined && { title: marked }) });

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
    if (chart === undefined) return void post({ kind: "nothing", text: answer.problem ?? say.noPicks });
    const shown = shownOf(answer, chart);
    void post({ kind: "table", table: { ...shown, rows: shown.rows.slice(0, AT_ONCE) } });
    void mark();
    for (let from = AT_ONCE; from < shown.total; from += AT_ONCE) {
      await new Promise((go) => setTimeout(go));
      if (mine !== newest) return;
      void post({ kind: "rows", rows: shown.rows.slice(from, from + AT_ONCE) });
    }
  };

  /** To the pick that the cursor is at, if that is another; in a book that has a table of its own, that one's follows. */
  const turn = async ({ document, selection: { active } }: TextEditor): Promise<boolean> => {
    const here = document.uri.toString();
    if (document.languageId !== language || (here !== uri && isShown(here))) return false;
    const params: SubjectParams = { textDocument: { uri: here }, position: { line: active.line, character: active.character } };
    const { picks = [], ...about } = await client.sendRequest<SubjectAnswer>(SUBJECT, params).catch((): SubjectAnswer => ({}));
    // What is only judged has no table.
    const pattern = picks.length > 0 ? about.pattern : undefined;
    if (pattern !== marked) {
      marked = pattern;
      void mark();
    }
    if (picks.length === 0 || (wanted !== undefined && picks.includes(wanted))) return false;
    wanted = picks[0]!;
    return true;
  };
  const follow = async (editor: TextEditor): Promise<void> => {
    if (await turn(editor)) await ask();
  };
  /** Its first question is about what is being written. */
  const begin = async (): Promise<void> => {
    const editor = rows === undefined ? bookAtHand(uri) : undefined;
    if (editor !== undefined) await turn(editor);
    await ask();
  };

  fillPage({ panel, extension: context.extensionUri, name: "table", title: extensionWords.commands.showTable, book: uri });
  const listening = [
    panel.webview.onDidReceiveMessage((message: FromPage) => {
      if (message.kind === "ready") void begin();
      else if (message.kind === "pick") {
        wanted = message.name;
        void ask();
      } else if (places[message.place]) void goTo(places[message.place]!);
    }),
    // A book that this one builds on counts as well.
    workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
      if (document.languageId !== language || contentChanges.length === 0) return;
      clearTimeout(typing);
      typing = setTimeout(() => void ask(), PAUSE);
    }),
    window.onDidChangeTextEditorSelection(({ textEditor }) => {
      clearTimeout(moving);
      moving = setTimeout(() => void follow(textEditor), GLANCE);
    }),
  ];
  panel.onDidDispose(() => {
    clearTimeout(typing);
    clearTimeout(moving);
    newest.cancel();
    for (const one of listening) one.dispose();
  });
  return ({ pick, title }) => {
    [wanted, marked] = [pick, title];
    void ask();
  };
}

/** The editor that a book is written in. */
function bookAtHand(uri: string): TextEditor | undefined {
  return [...(window.activeTextEditor ? [window.activeTextEditor] : []), ...window.visibleTextEditors].find(
    ({ document }) => document.uri.toString() === uri,
  );
}

function shownOf({ headline = "", picks = [], legend = [], cautions = [], closed = [], problem }: TableAnswer, chart: TableChart): Shown {
  let place = 0;
  const warning = chart.problem ?? problem;
  return {
    title: headline,
    picks,
    pick: chart.pick,
    columns: chart.columns.map((column, at) => ({ ...column, label: chart.head[at]! })),
    answer: { name: chart.pick, label: chart.label, values: chart.options },
    notes: legend,
    cautions,
    closed: [...closed, ...chart.silences],
    total: chart.rows.length,
    rows: chart.rows.map(({ cells, because, ...row }) => ({
      ...row,
      when: cells,
      because: because.map(({ title }) => ({ title, place: place++ })),
    })),
    ...(warning !== undefined && { warning }),
  };
}
