/**
 * Findings for whoever asks for them.
 *
 *     textDocument/diagnostic { book } ──once all is known of it──▶ its findings
 *     workspace/diagnostic { what the client has } ──once all is known of all, and something differs──▶ what differs
 *
 * Whoever can be told is told, whether a book is open or not, and sooner: while somebody writes, what is told moves along (`publisher.ts`).
 * So only a client that cannot be is told that it may ask.
 */
import {
  DiagnosticRefreshRequest,
  type CancellationToken,
  type ClientCapabilities,
  type Connection,
  type Diagnostic,
  type FullDocumentDiagnosticReport,
  type ServerCapabilities,
  type WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver";

export interface Pulls {
  /** What is known of a file from now on. */
  keep(uri: string, version: number | undefined, diagnostics: readonly Diagnostic[]): void;
}

export interface PullOptions {
  readonly client: () => ClientCapabilities;
  /** Comes back once all is known of what is open, and with `everything` of the other books too. */
  readonly settled: (everything: boolean) => Promise<void>;
  /** The books that are looked after, open or not. */
  readonly books: () => Promise<readonly string[]>;
  readonly isOpen: (uri: string) => boolean;
  readonly quietly: (work: Promise<unknown>) => void;
}

/** A client that wants findings, and knows no other way to get them. */
export function onlyAsks({ textDocument }: ClientCapabilities): boolean {
  return textDocument?.diagnostic !== undefined && textDocument.publishDiagnostics === undefined;
}

export const pullCapabilities: ServerCapabilities = {
  diagnosticProvider: { interFileDependencies: true, workspaceDiagnostics: true },
};

interface Kept {
  /** Another one for other findings. */
  readonly id: string;
  readonly version: number | undefined;
  readonly items: readonly Diagnostic[];
}
const nothing: Kept = { id: "0", version: undefined, items: [] };

export function openPulls(connection: Connection, { client, settled, books, isOpen, quietly }: PullOptions): Pulls {
  const kept = new Map<string, Kept>();
  const waiting = new Set<() => void>();
  let count = 0;
  let asking: ReturnType<typeof setTimeout> | undefined;

  const reportOf = ({ id, items }: Kept): FullDocumentDiagnosticReport => ({ kind: "full", resultId: id, items: [...items] });

  connection.languages.diagnostics.on(async ({ textDocument: { uri }, previousResultId }) => {
    await settled(!isOpen(uri));
    const now = kept.get(uri) ?? nothing;
    return now.id === previousResultId ? { kind: "unchanged", resultId: now.id } : reportOf(now);
  });
  connection.languages.diagnostics.onWorkspace(async ({ previousResultIds }, token) => {
    const before = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
    for (;;) {
      await settled(true);
      const uris = new Set([...before.keys(), ...kept.keys(), ...(await books())]);
      const items = [...uris].flatMap((uri): WorkspaceDocumentDiagnosticReport[] => {
        const now = kept.get(uri) ?? nothing;
        return now.id === before.get(uri) ? [] : [{ ...reportOf(now), uri, version: now.version ?? null }];
      });
      if (items.length > 0 || token.isCancellationRequested) return { items };
      await changed(token);
    }
  });

  const changed = (token: CancellationToken): Promise<void> =>
    new Promise((go) => {
      waiting.add(go);
      token.onCancellationRequested(go);
    });
  return {
    keep: (uri, version, diagnostics) => {
      if (diagnostics.length === 0 && version === undefined) kept.delete(uri);
      else kept.set(uri, { id: String(++count), version, items: diagnostics });
      const waiters = [...waiting];
      waiting.clear();
      for (const go of waiters) go();
      if (!onlyAsks(client()) || !client().workspace?.diagnostics?.refreshSupport) return;
      // What is open is asked for again when it changes, but not when what it builds on does.
      asking ??= setTimeout(() => {
        asking = undefined;
        quietly(connection.sendRequest(DiagnosticRefreshRequest.type));
      }, 0);
    },
  };
}
