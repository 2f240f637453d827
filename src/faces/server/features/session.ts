/** What the features share: a connection as they see it, and how a request about one book is answered, whatever goes wrong. */
import { LSPErrorCodes, ResponseError, type CancellationToken, type TextDocumentIdentifier } from "vscode-languageserver";
import type { Read } from "../../../model/books.js";
import type { View } from "../../../service/view.js";
import type { LineMap } from "../../../text.js";
import type { Answering } from "../schedule.js";
import { placesIn, type DiagnosticOptions, type PositionsIn } from "../convert.js";

interface List {
  readonly uri: string;
  /** What it is called in sentences. */
  readonly path: string;
  readonly text: string;
}

/** One connection, as the features see it: the books that are open in it, and what its client can show. */
export interface Session {
  view(uri: string): View | undefined;
  /** With its analysis; undefined if that could not be, or the text has changed meanwhile. */
  whole(uri: string): Promise<View | undefined>;
  /** With what its picks answer, which is known sooner. */
  answered(uri: string): Promise<Answering | undefined>;
  /** All books of the workspace but one. */
  others(uri: string): Promise<readonly View[]>;
  /** Books that one could build on, as it would write their paths. */
  pathsFor(uri: string): Promise<readonly string[]>;
  /** Stock lists and logs in the folders of the workspace. */
  lists(): Promise<readonly List[]>;
  /** Whether the client asks before it makes a change that is to be asked for first. */
  readonly asksFirst: () => boolean;
  /** Of what is open. */
  readonly version: (uri: string) => number | undefined;
  /** Says something to whoever uses the client. */
  tell(message: string): void;
  /** Works out later what becomes of a pattern; false where that was tried in vain. */
  want(view: View, pattern: number): boolean;
  /** A book by its path. */
  readonly read: Read;
  uriOf(path: string): string;
  readonly steps: (uri: string) => number | undefined;
  readonly diagnostics: (uri: string) => DiagnosticOptions;
  readonly snippets: () => boolean;
  /** Whether the client colors words, numbers and texts by itself, and is told the rest only. */
  readonly colorsWords: () => boolean;
  /** Whether the client shows Markdown when one points at something. */
  readonly markdown: () => boolean;
  /** Whether the client can carry out a command. */
  readonly knows: (command: string) => boolean;
  readonly lenses: () => boolean;
  readonly inlayHints: () => boolean;
  /** Lets messages go first. */
  pause(): Promise<void>;
  /** Does what somebody waits for before all that nobody has asked for. */
  ahead<T>(work: () => Promise<T>): Promise<T>;
  fault(what: string, error: unknown): void;
}

interface Ready {
  readonly view: View;
  readonly lines: LineMap;
  readonly places: PositionsIn;
}

type Answer<R> = R | ResponseError;

/** A handler for requests about one book, of which `empty` is the answer where there is no other. */
export function binder(session: Session) {
  return <P extends { readonly textDocument: TextDocumentIdentifier }, R>(
      what: string,
      empty: R,
      work: (params: P, ready: Ready, token: CancellationToken) => Answer<R> | Promise<Answer<R>>,
    ) =>
    (params: P, token: CancellationToken): Promise<Answer<R>> =>
      guarded(session, what, empty, async () => {
        const view = token.isCancellationRequested ? undefined : session.view(params.textDocument.uri);
        const answer =
          view === undefined ? empty : await work(params, { view, lines: view.lines, places: placesIn(view, session.uriOf) }, token);
        return token.isCancellationRequested ? new ResponseError<void>(LSPErrorCodes.RequestCancelled, what) : answer;
      });
}

export async function guarded<R>(session: Session, what: string, empty: R, work: () => Promise<R>): Promise<R> {
  try {
    return await work();
  } catch (error) {
    session.fault(what, error);
    return empty;
  }
}

export function placesAcross(views: readonly View[], uriOf: (path: string) => string): PositionsIn {
  const all = views.map((view) => placesIn(view, uriOf));
  return {
    uriOf,
    linesOf: (path) => {
      for (const places of all) {
        const lines = places.linesOf(path);
        if (lines !== undefined) return lines;
      }
      return undefined;
    },
  };
}

/** Comes back with nothing after so many milliseconds: for whoever does not wait longer. */
export function after(delay: number): Promise<undefined> {
  return new Promise((done) => void setTimeout(() => done(undefined), delay));
}
