/**
 * The language server, whatever it is connected through: the life of a connection, and nothing of what a book means.
 *
 *     open, change, close ──▶ library (texts) ──▶ schedule (when which book is read and analysed) ──▶ publisher (diagnostics)
 *     files come and go ─────────────┴──────────▶ folder (the books that are not open) ───────────────────┘
 *     requests ──▶ features ──▶ src/service/
 */
import { TextDocument } from "vscode-languageserver-textdocument";
import {
  CodeLensRefreshRequest,
  ConfigurationRequest,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  InlayHintRefreshRequest,
  MessageType,
  PositionEncodingKind,
  ShowMessageNotification,
  TextDocumentSyncKind,
  type ClientCapabilities,
  type Connection,
  type InitializeParams,
  type InitializeResult,
} from "vscode-languageserver";
import { STEPS } from "../../analysis/analyse.js";
import { serverWords } from "../../messages/server.js";
import { pathBeside } from "../../paths.js";
import { atHand, statementAt, trying, unfinished } from "../../service/unfinished.js";
import type { View } from "../../service/view.js";
import { isDay } from "../day.js";
import { openClosedBooks } from "./closed-books.js";
import type { DiagnosticOptions } from "./convert.js";
import { bindFeatures, capabilities } from "./features/features.js";
import type { Session } from "./features/session.js";
import { bindFileOperations, fileOperations } from "./file-operations.js";
import { openFolder } from "./folder.js";
import type { Host, Kept } from "./host.js";
import { openLibrary } from "./library.js";
import { openTurns } from "./pieces.js";
import { openPublisher, type Writing } from "./publisher.js";
import { onlyAsks, openPulls, pullCapabilities } from "./pulls.js";
import { CURSOR, WRITING, type CursorParams, type WritingParams } from "./requests.js";
import { openSchedule, type Hand } from "./schedule.js";
import { openSettings } from "./settings.js";
import { bindTables } from "./tables.js";

/** The settings of the editor, under `waterlore`. */
interface ClientSettings {
  readonly day?: string;
  readonly steps?: number;
  readonly inlayHints: boolean;
  readonly lenses: boolean;
}
const usual: ClientSettings = { inlayHints: false, lenses: true };

/** Serves until the connection ends. */
export function serve(connection: Connection, host: Host): void {
  const library = openLibrary(host.files, (path) => schedule.looked(path));
  const documents = new Map<string, TextDocument>();
  let client: ClientCapabilities = {};
  let folders: readonly string[] = [];
  let settings = usual;
  let commands: ReadonlySet<unknown> = new Set();
  /** Whether the editor says when somebody is writing; only then do errors of what is at hand wait. */
  let saysWriting = false;

  const fault = (what: string, error: unknown): void =>
    connection.console.error(serverWords.fault(what, error instanceof Error ? error.message : String(error)));
  const quietly = (work: Promise<unknown>): void => void work.catch((error: unknown) => fault("client", error));
  const supports = (): DiagnosticOptions["supports"] => {
    const { relatedInformation, codeDescriptionSupport, tagSupport } = client.textDocument?.publishDiagnostics ?? {};
    return { related: relatedInformation ?? false, page: codeDescriptionSupport ?? false, tags: tagSupport !== undefined };
  };
  const bookSettings = openSettings({
    files: host.files,
    today: host.today,
    pathOf: library.pathOf,
    client: () => settings,
    // Told, not asked: a question without answers would stop some editors.
    warn: (problem) =>
      quietly(
        connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Warning, message: serverWords.settings(problem) }),
      ),
  });
  const publisher = openPublisher({
    library,
    diagnostics: () => ({ supports: supports(), hintPage: host.hintPage }),
    publish: (uri, version, diagnostics) => {
      pulls.keep(uri, version, diagnostics);
      if (!onlyAsks(client)) quietly(connection.sendDiagnostics({ uri, ...(version !== undefined && { version }), diagnostics }));
    },
    holding: (uri, writing) => quietly(connection.sendNotification(WRITING, { uri, writing } satisfies WritingParams)),
  });
  const turns = openTurns(host.pause);
  const writingIn = (view: View, hand: Hand): Writing | undefined => {
    if (!saysWriting || hand === undefined) return undefined;
    const paused = hand === "paused";
    return { paused, waits: (findings, at) => (paused ? unfinished : atHand)(view, findings, at) };
  };
  const schedule = openSchedule({
    library,
    pause: turns.behind,
    settings: bookSettings,
    fault,
    read: (view, { severities }, hand) => publisher.read({ view, severities, writing: writingIn(view, hand) }),
    settled: (view, { severities }, hand) => publisher.settled({ view, severities, writing: writingIn(view, hand) }),
    *pausing(view) {
      const hand = publisher.handIn(view.path);
      if (saysWriting && hand !== undefined) yield* trying(view, view.findings, hand);
    },
    analysed: () => {
      const { codeLens, inlayHint } = client.workspace ?? {};
      if (codeLens?.refreshSupport && settings.lenses) quietly(connection.sendRequest(CodeLensRefreshRequest.type));
      if (inlayHint?.refreshSupport && settings.inlayHints) quietly(connection.sendRequest(InlayHintRefreshRequest.type));
    },
    progress: (path) => {
      if (!client.window?.workDoneProgress) return () => undefined;
      const shown = connection.window.createWorkDoneProgress();
      quietly(shown.then((progress) => progress.begin(serverWords.checking(path))));
      return () => quietly(shown.then((progress) => progress.done()));
    },
  });
  const closedBooks = openClosedBooks({ library, files: host.files, folders: () => folders, settings: bookSettings.usual });
  let kept: Kept | undefined;
  const folder = openFolder({
    library,
    books: closedBooks,
    pause: turns.behind,
    settings: bookSettings,
    kept: () => kept,
    calm: schedule.calm,
    fault,
    read: (view, { severities }) => publisher.read({ view, severities }),
    found: (view, { severities }) => publisher.found({ view, severities }),
    flush: publisher.flush,
    gone: (path) => publisher.closed(path, library.uriOf(path)),
    progress: () => {
      if (!client.window?.workDoneProgress) return { report: () => undefined, done: () => undefined };
      const shown = connection.window.createWorkDoneProgress();
      quietly(shown.then((bar) => bar.begin(serverWords.checkingFolder, 0)));
      return {
        report: (count, of) => quietly(shown.then((bar) => bar.report((100 * count) / of, serverWords.books(count, of)))),
        done: () => quietly(shown.then((bar) => bar.done())),
      };
    },
  });

  const pulls = openPulls(connection, {
    client: () => client,
    settled: async (everything) => {
      await schedule.calm();
      if (everything) await folder.settled();
    },
    books: async () => (await closedBooks.checked()).map(library.uriOf),
    isOpen: (uri) => documents.has(uri),
    quietly,
  });

  const session: Session = {
    view: (uri) => schedule.view(library.pathOf(uri)),
    whole: (uri) => schedule.whole(library.pathOf(uri)),
    answered: (uri) => schedule.answered(library.pathOf(uri)),
    others: async (uri) => {
      const closed = await closedBooks.views();
      return [
        ...[...documents.keys()].filter((other) => other !== uri).flatMap((other) => schedule.view(library.pathOf(other)) ?? []),
        ...closed,
      ];
    },
    pathsFor: async (uri) => {
      const own = library.pathOf(uri);
      return (await closedBooks.paths()).filter((path) => path !== own).map((path) => pathBeside(own, path));
    },
    read: library.reader(new Set()),
    lists: async () => {
      const uris = await host.files.lists(folders);
      await Promise.all(uris.filter((uri) => host.files.known(uri) === undefined).map(host.files.look));
      return uris.flatMap((uri) => {
        const opened = host.files.known(uri);
        return opened !== undefined && "text" in opened ? [{ uri, path: library.pathOf(uri), text: opened.text }] : [];
      });
    },
    asksFirst: () => {
      const { documentChanges, changeAnnotationSupport } = client.workspace?.workspaceEdit ?? {};
      return documentChanges === true && changeAnnotationSupport !== undefined;
    },
    version: (uri) => documents.get(uri)?.version,
    tell: (message) => quietly(connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Info, message })),
    want: schedule.want,
    uriOf: library.uriOf,
    steps: (uri) => schedule.settingsOf(library.pathOf(uri))?.steps,
    diagnostics: (uri) => ({
      supports: supports(),
      severities: schedule.settingsOf(library.pathOf(uri))?.severities ?? {},
      hintPage: host.hintPage,
    }),
    colorsWords: () => client.textDocument?.semanticTokens?.augmentsSyntaxTokens ?? false,
    snippets: () => client.textDocument?.completion?.completionItem?.snippetSupport ?? false,
    markdown: () => client.textDocument?.hover?.contentFormat?.includes("markdown") ?? false,
    knows: (command) => commands.has(command),
    lenses: () => settings.lenses,
    inlayHints: () => settings.inlayHints,
    pause: host.pause,
    ahead: turns.ahead,
    fault,
  };
  bindFeatures(connection, session);
  bindTables(connection, {
    ...session,
    settings: (uri) => schedule.settingsOf(library.pathOf(uri)),
  });

  bindFileOperations(connection, {
    library,
    files: host.files,
    folders: () => folders,
    books: async () => [...new Set([...(await closedBooks.paths()), ...[...documents.keys()].map(library.pathOf)])],
    changed: (uris) => {
      for (const uri of uris) library.changed(uri);
      closedBooks.recount();
      schedule.refresh();
      folder.wake();
    },
    fault,
  });

  connection.onInitialize((params): InitializeResult => {
    client = params.capabilities;
    folders = foldersOf(params);
    library.settle(folders[0]);
    const storage: unknown = isObject(params.initializationOptions) ? params.initializationOptions["storage"] : undefined;
    const [first] = folders;
    if (first !== undefined) kept = host.kept?.(first, typeof storage === "string" ? storage : undefined);
    settings = settingsFrom(params.initializationOptions, settings);
    const options: unknown = params.initializationOptions;
    if (isObject(options) && Array.isArray(options["commands"])) commands = new Set(options["commands"]);
    saysWriting = isObject(options) && options["writing"] === true;
    return {
      serverInfo: { name: serverWords.name },
      capabilities: {
        positionEncoding: PositionEncodingKind.UTF16,
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: { includeText: false } },
        workspace: { workspaceFolders: { supported: true, changeNotifications: true }, fileOperations },
        ...capabilities,
        ...(onlyAsks(client) && pullCapabilities),
      },
    };
  });
  connection.onInitialized(() => {
    const { workspace } = client;
    if (workspace?.didChangeConfiguration?.dynamicRegistration)
      quietly(connection.client.register(DidChangeConfigurationNotification.type, { section: "waterlore" }));
    if (workspace?.didChangeWatchedFiles?.dynamicRegistration) {
      quietly(
        connection.client.register(DidChangeWatchedFilesNotification.type, {
          watchers: [{ globPattern: "**/*.lore" }, { globPattern: "**/waterlore.json" }],
        }),
      );
    }
    if (workspace?.workspaceFolders) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        folders = [...folders.filter((uri) => !removed.some((gone) => gone.uri === uri)), ...added.map(({ uri }) => uri)];
        closedBooks.recount();
        folder.wake();
      });
    }
    quietly(askSettings().then(folder.wake, folder.wake));
  });

  const adopt = (now: ClientSettings): void => {
    if (JSON.stringify(now) === JSON.stringify(settings)) return;
    settings = now;
    schedule.refresh();
    folder.wake();
  };
  const askSettings = async (): Promise<void> => {
    if (!client.workspace?.configuration) return;
    const [found] = (await connection.sendRequest(ConfigurationRequest.type, { items: [{ section: "waterlore" }] })) as unknown[];
    adopt(settingsFrom(found, usual));
  };
  connection.onDidChangeConfiguration(({ settings: given }: { readonly settings: unknown }) => {
    if (client.workspace?.configuration) quietly(askSettings());
    else adopt(settingsFrom(isObject(given) && "waterlore" in given ? given["waterlore"] : given, settings));
  });

  /** What handles a notification must not throw either. */
  const handling =
    <P>(what: string, work: (params: P) => void) =>
    (params: P): void => {
      try {
        work(params);
      } catch (error) {
        fault(what, error);
      }
    };
  connection.onDidOpenTextDocument(
    handling("open", ({ textDocument: { uri, languageId, version, text } }) => {
      const document = TextDocument.create(uri, languageId, version, text);
      documents.set(uri, document);
      // What has been found in its file stays until it is known anew.
      schedule.opened(library.open(document));
      folder.wake();
    }),
  );
  connection.onDidChangeTextDocument(
    handling("change", ({ textDocument: { uri, version }, contentChanges }) => {
      const document = documents.get(uri);
      if (document === undefined) return;
      const path = library.pathOf(uri);
      for (const change of contentChanges) {
        const before = document.getText();
        TextDocument.update(document, [change], version);
        publisher.edited(path, before, document.getText());
      }
      schedule.changed(path);
      folder.wake();
    }),
  );
  connection.onDidCloseTextDocument(
    handling("close", ({ textDocument: { uri } }) => {
      if (!documents.delete(uri)) return;
      const path = library.close(uri);
      schedule.closed(path);
      if (folder.closed(path)) publisher.left(path);
      else publisher.closed(path, uri);
      folder.wake();
    }),
  );
  // Without a watcher, a good moment to look whether other files have changed.
  connection.onDidSaveTextDocument(
    handling("save", ({ textDocument: { uri } }) => {
      schedule.left(library.pathOf(uri));
      schedule.lookAgain();
      folder.wake();
    }),
  );
  connection.onNotification(
    CURSOR,
    handling("cursor", ({ uri, position }: CursorParams) => {
      const path = library.pathOf(uri);
      const [view, hand] = [schedule.view(path), publisher.handIn(path)];
      if (view === undefined || hand === undefined) return;
      const { start, end } = statementAt(view, hand);
      const at = position && documents.get(uri)?.offsetAt(position);
      if (at === undefined || at < start || at >= end) schedule.left(path);
    }),
  );
  connection.onDidChangeWatchedFiles(
    handling("files", ({ changes }) => {
      closedBooks.recount();
      if (changes.some(({ uri }) => !uri.endsWith(".lore"))) schedule.refresh();
      for (const { uri } of changes) {
        const path = library.changed(uri);
        if (path !== undefined) schedule.changed(path);
      }
      folder.wake();
    }),
  );
  connection.onShutdown(() => {
    folder.stop();
    schedule.stop();
  });
}

// oxlint-disable-next-line typescript/no-deprecated -- Clients that know no workspace folders say only this.
function foldersOf({ workspaceFolders, rootUri }: InitializeParams): readonly string[] {
  return workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
}

/** Whatever a client sends; what does not fit is as if it were not there. */
function settingsFrom(given: unknown, otherwise: ClientSettings): ClientSettings {
  if (!isObject(given)) return otherwise;
  const { day, steps, inlayHints, lenses } = given;
  return {
    ...(typeof day === "string" && isDay(day) && { day }),
    // An editor that fills in what is usual has not chosen it.
    ...(typeof steps === "number" && Number.isInteger(steps) && steps > 0 && steps !== STEPS && { steps }),
    inlayHints: typeof inlayHints === "boolean" ? inlayHints : otherwise.inlayHints,
    lenses: typeof lenses === "boolean" ? lenses : otherwise.lenses,
  };
}

function isObject(given: unknown): given is Readonly<Record<string, unknown>> {
  return typeof given === "object" && given !== null;
}
