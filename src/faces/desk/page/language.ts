/**
 * The language server, in a worker of this page: the same as in every other editor.
 *
 *     editor ──LSP──▶ worker          worker ──waterlore/read, waterlore/files──▶ the desk's books, as they are being written
 */
import { LSPClient, serverCompletion, hoverTooltips, serverDiagnostics, type Transport } from "@codemirror/lsp-client";
import DOMPurify from "dompurify";
import type { Diagnostic } from "vscode-languageserver-protocol";
import { FILES, READ, WRITING, type FileAnswer, type FileParams, type FilesParams, type WritingParams } from "../../server/requests.js";
import { decodePath, encodePath } from "../contract.js";

export interface LanguageOptions {
  /** The server's script. */
  readonly code: string;
  /** A file as it is now, saved or not. */
  readonly read: (path: string) => Promise<FileAnswer>;
  readonly files: () => readonly string[];
  readonly found: (path: string, findings: readonly Diagnostic[]) => void;
  /** Whether what is wrong in the statement at hand waits until it is written. */
  readonly writing: (path: string, writing: boolean) => void;
}

/** A made-up place: no server needs to know where the books are. */
const ROOT = "file:///shop";

export function uriOf(path: string): string {
  return `${ROOT}/${encodePath(path)}`;
}
export function pathOf(uri: string): string {
  return decodePath(uri.slice(ROOT.length + 1));
}

/** Milliseconds that a request may take: a large book is analysed meanwhile. */
const PATIENCE = 60_000;

export function startLanguage({ code, read, files, found, writing }: LanguageOptions): LSPClient {
  const worker = new Worker(URL.createObjectURL(new Blob([code], { type: "text/javascript" })));
  const answers: Readonly<Record<string, (params: never) => unknown>> = {
    [READ]: ({ uri }: FileParams) => read(pathOf(uri)),
    [FILES]: (params?: FilesParams) =>
      files()
        .filter((path) => path.endsWith(`.${params?.ending ?? "lore"}`))
        .map(uriOf),
    "workspace/configuration": ({ items }: { readonly items: readonly unknown[] }) => items.map(() => null),
  };
  const client = new LSPClient({
    rootUri: ROOT,
    timeout: PATIENCE,
    initializationOptions: { writing: true },
    sanitizeHTML: (html) => DOMPurify.sanitize(html),
    extensions: [serverCompletion({ override: true }), hoverTooltips(), serverDiagnostics()],
    notificationHandlers: {
      // The editor is told as well.
      "textDocument/publishDiagnostics": (
        _,
        { uri, diagnostics }: { readonly uri: string; readonly diagnostics: readonly Diagnostic[] },
      ) => {
        found(pathOf(uri), diagnostics);
        return false;
      },
      [WRITING]: (_, { uri, writing: isWriting }: WritingParams) => {
        writing(pathOf(uri), isWriting);
        return true;
      },
    },
    // What another editor would be told and this one does not show.
    unhandledNotification: () => undefined,
  });
  return client.connect(transportTo(worker, answers));
}

/** Requests of the server's own are answered here; the client is told all else. */
function transportTo(worker: Worker, answers: Readonly<Record<string, (params: never) => unknown>>): Transport {
  const handlers = new Set<(message: string) => void>();
  interface Message {
    readonly id?: number;
    readonly method?: string;
    readonly params?: never;
  }
  worker.addEventListener("message", ({ data }: MessageEvent<Message>) => {
    const { id, method, params } = data;
    const answer = method === undefined ? undefined : answers[method];
    if (id === undefined || answer === undefined) {
      for (const handler of handlers) handler(JSON.stringify(data));
      return;
    }
    void Promise.resolve(answer(params as never)).then((result) => worker.postMessage({ jsonrpc: "2.0", id, result }));
  });
  return {
    send: (message) => worker.postMessage(JSON.parse(message)),
    subscribe: (handler) => void handlers.add(handler),
    unsubscribe: (handler) => void handlers.delete(handler),
  };
}
