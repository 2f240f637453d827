/** A client and the real server, connected by two streams in memory. */
import { PassThrough } from "node:stream";
import { setImmediate, setTimeout } from "node:timers/promises";
import {
  createConnection,
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  CodeLensRequest,
  CompletionRequest,
  DidChangeTextDocumentNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  ShutdownRequest,
  type ClientCapabilities,
  type CompletionItem,
  type CompletionList,
  type CompletionParams,
  type Connection,
  type InitializeParams,
  type InitializeResult,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  type TextDocumentContentChangeEvent,
} from "vscode-languageserver/node";
import type { Host } from "../../src/faces/server/host.js";
import { serve } from "../../src/faces/server/server.js";
import type { Opened } from "../../src/text.js";

/** Files as a test has them. */
export function memoryHost(files: Map<string, string>, change: Partial<Host> = {}): Host {
  const known = (uri: string): Opened => (files.has(uri) ? { text: files.get(uri)! } : { problem: "there is no such file" });
  return {
    files: {
      known,
      look: () => Promise.resolve(),
      forget: () => undefined,
      real: (uri) => uri,
      books: (folders) =>
        Promise.resolve([...files.keys()].filter((uri) => uri.endsWith(".lore") && folders.some((folder) => uri.startsWith(`${folder}/`)))),
      lists: (folders) =>
        Promise.resolve([...files.keys()].filter((uri) => uri.endsWith(".csv") && folders.some((folder) => uri.startsWith(`${folder}/`)))),
      checked: (uris) => Promise.resolve(uris),
    },
    today: () => "2027-04-15",
    hintPage: (code) => `hints:${code}`,
    pause: () => setImmediate(),
    ...change,
  };
}

export const FOLDER = "file:///shop";

export interface Client {
  readonly connection: ProtocolConnection;
  readonly server: InitializeResult;
  /** All that was published, in order. */
  readonly published: PublishDiagnosticsParams[];
  /** What the server wrote into its log: faults. */
  readonly log: string[];
  open(uri: string, text: string): void;
  /** Whole text, or changes. */
  change(uri: string, version: number, ...changes: TextDocumentContentChangeEvent[]): void;
  close(uri: string): void;
  /** The latest of a file. */
  latest(uri: string): PublishDiagnosticsParams | undefined;
  /** Waits until something is so. */
  until(holds: () => boolean, what?: string): Promise<void>;
  /** Waits until the server has said nothing for some time. */
  quiet(time?: number): Promise<void>;
  /** Waits until the server has told all there is to tell of some open books, which must not change meanwhile. */
  told(...uris: readonly string[]): Promise<void>;
  end(): Promise<void>;
}

export const everything: ClientCapabilities = {
  textDocument: {
    publishDiagnostics: {
      relatedInformation: true,
      versionSupport: true,
      codeDescriptionSupport: true,
      dataSupport: true,
      tagSupport: { valueSet: [1, 2] },
    },
    completion: { completionItem: { snippetSupport: true } },
    hover: { contentFormat: ["markdown", "plaintext"] },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
  },
};

/** Completion, whichever way the protocol lets it be answered. */
export async function suggested(
  { connection }: Client,
  params: CompletionParams,
): Promise<{ readonly items: readonly CompletionItem[]; readonly isIncomplete: boolean }> {
  const answer = (await connection.sendRequest(CompletionRequest.type, params)) as CompletionItem[] | CompletionList;
  return Array.isArray(answer) ? { items: answer, isIncomplete: false } : answer;
}

export async function connect(
  host: Host | ((connection: Connection) => Host),
  capabilities: ClientCapabilities = everything,
  prepare: (connection: ProtocolConnection) => void = () => undefined,
  options: Partial<InitializeParams> = {},
): Promise<Client> {
  const [there, back] = [new PassThrough(), new PassThrough()];
  const server = createConnection(new StreamMessageReader(there), new StreamMessageWriter(back));
  serve(server, typeof host === "function" ? host(server) : host);
  server.listen();
  const connection = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const published: PublishDiagnosticsParams[] = [];
  const log: string[] = [];
  let last = performance.now();
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    last = performance.now();
    published.push(params);
  });
  connection.onNotification("window/logMessage", ({ message }: { readonly message: string }) => void log.push(message));
  prepare(connection);
  connection.listen();
  const answer = await connection.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: FOLDER,
    capabilities,
    workspaceFolders: [{ uri: FOLDER, name: "shop" }],
    ...options,
  });
  await connection.sendNotification(InitializedNotification.type, {});
  const until = async (holds: () => boolean, what = "that"): Promise<void> => {
    const started = performance.now();
    while (!holds()) {
      if (performance.now() - started > 20_000)
        throw new Error(`waited in vain for ${what}: ${JSON.stringify(published.slice(-3))} ${log.join("\n")}`);
      await setTimeout(5);
    }
  };
  return {
    connection,
    server: answer,
    published,
    log,
    until,
    open: (uri, text) =>
      void connection.sendNotification(DidOpenTextDocumentNotification.type, {
        textDocument: { uri, languageId: "lore", version: 1, text },
      }),
    change: (uri, version, ...contentChanges) =>
      void connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges }),
    close: (uri) => void connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } }),
    latest: (uri) => published.findLast((one) => one.uri === uri),
    quiet: async (time = 400) => {
      last = performance.now();
      await until(() => performance.now() - last > time, "quiet");
    },
    // Lenses come with the analysis, after its findings.
    told: async (...uris) => {
      for (const uri of uris) await connection.sendRequest(CodeLensRequest.type, { textDocument: { uri } });
    },
    end: async () => {
      await connection.sendRequest(ShutdownRequest.type);
      connection.dispose();
      server.dispose();
    },
  };
}
