/**
 * The table that binds requests to features: what the client asks, which function of `src/service/` answers, and how that is written down
 * in the protocol.
 *
 *     textDocument/references { uri, position } ──▶ view, offset ──referencesAt──▶ places ──▶ Location[]
 *
 * Nothing here decides what anything means, and no fault of ours reaches the client: it is logged, and the answer is empty.
 */
import {
  CodeActionKind,
  InlayHintKind,
  InsertTextFormat,
  LSPErrorCodes,
  MarkupKind,
  ResponseError,
  SemanticTokensBuilder,
  type CancellationToken,
  type CodeAction,
  type CodeLens,
  type Command,
  type CompletionItem,
  type CompletionList,
  type CompletionParams,
  type Connection,
  type DocumentSymbol as Outline,
  type LocationLink,
  type SelectionRange,
  type ServerCapabilities,
  type TextDocumentIdentifier,
  type WorkspaceEdit,
} from "vscode-languageserver";
import type { Finding } from "../../diagnostics.js";
import { serverWords } from "../../messages/server.js";
import { gatheringActions, type Action, type ActionOptions } from "../../service/actions/actions.js";
import { applied } from "../../service/actions/edits.js";
import { completions } from "../../service/completion/completion.js";
import type { Completion } from "../../service/completion/offer.js";
import { foldsOf } from "../../service/folding.js";
import { formatting, rangeFormatting } from "../../service/formatting.js";
import { hover } from "../../service/hover/hover.js";
import { inlayHints } from "../../service/inlay-hints.js";
import { lenses, lensText, type Leads } from "../../service/lenses.js";
import { linksOf } from "../../service/links.js";
import { definitionAt } from "../../service/names/definition.js";
import { highlightsAt } from "../../service/names/highlight.js";
import { referencesAt } from "../../service/names/references.js";
import { prepareRename, rename, type Refused } from "../../service/names/rename.js";
import { selectionsAt } from "../../service/selection.js";
import { semanticTokenModifiers, semanticTokens, semanticTokenTypes, type SemanticTokenType } from "../../service/semantic-tokens.js";
import { documentSymbols, workspaceSymbols, type DocumentSymbol } from "../../service/symbols.js";
import type { View } from "../../service/view.js";
import { lineMap, type LineMap, type Range } from "../../text.js";
import {
  diagnosticOf,
  linesAt,
  locationOf,
  offsetAt,
  placesIn,
  positionAt,
  rangeAt,
  textEdit,
  workspaceEdit,
  type DiagnosticOptions,
  type PositionsIn,
} from "./convert.js";
import { clientCommands } from "./requests.js";
import { completionKinds, foldKinds, highlightKinds, symbolKinds } from "./kinds.js";
import { inPieces, type Manners } from "./pieces.js";

/** One connection, as the features see it: the books that are open in it, and what its client can show. */
export interface Session {
  view(uri: string): View | undefined;
  /** With its analysis; undefined if that could not be, or the text has changed meanwhile. */
  whole(uri: string): Promise<View | undefined>;
  /** All books of the workspace but one. */
  others(uri: string): Promise<readonly View[]>;
  /** Books that one could build on, as it would write their paths. */
  pathsFor(uri: string): Promise<readonly string[]>;
  /** Works out later what becomes of a pattern; false where that was tried in vain. */
  want(view: View, pattern: number): boolean;
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
  fault(what: string, error: unknown): void;
}

export const capabilities: ServerCapabilities = {
  completionProvider: { triggerCharacters: [" ", '"', "/"] },
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  documentSymbolProvider: true,
  workspaceSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: {},
  hoverProvider: true,
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  codeLensProvider: { resolveProvider: true },
  inlayHintProvider: true,
  semanticTokensProvider: {
    legend: { tokenTypes: [...semanticTokenTypes], tokenModifiers: [...semanticTokenModifiers] },
    full: true,
    range: true,
  },
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, CodeActionKind.RefactorExtract] },
};

/** How long actions may wait for the analysis before those that need none come alone, and each finding's for being tried. Milliseconds. */
const PATIENCE = 1000;
const TRIAL = 1000;
/** How long completion waits for the names of other books. */
const COUNTING = 100;

/** What needs no reading of a book to be told apart. */
const plain: ReadonlySet<SemanticTokenType> = new Set(["keyword", "comment", "string", "number"]);

interface Ready {
  readonly view: View;
  readonly lines: LineMap;
  readonly places: PositionsIn;
}

export function bindFeatures(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onCompletion(
    bound<CompletionParams, CompletionList | CompletionItem[]>("completion", [], async ({ textDocument, position }, { view, lines }) => {
      const paths = (await Promise.race([session.pathsFor(textDocument.uri), after(COUNTING)])) ?? [];
      const items = completions(view, offsetAt(lines, position), { paths: () => paths }).map((one, i) =>
        completionItem(one, i, lines, session.snippets()),
      );
      // Asked again at the next letter: the last one of a word ends the list.
      return items.length === 0 ? [] : { isIncomplete: true, items };
    }),
  );
  connection.onHover(
    bound("hover", null, ({ position }, { view, lines }) => {
      const found = hover(view, offsetAt(lines, position));
      return found === undefined
        ? null
        : {
            range: linesAt(lines, found.range),
            contents: { kind: session.markdown() ? MarkupKind.Markdown : MarkupKind.PlainText, value: found.markdown },
          };
    }),
  );
  connection.onDefinition(
    bound("definition", null, ({ position }, { view, lines, places }) => {
      const found = definitionAt(view, offsetAt(lines, position));
      return found === undefined
        ? null
        : found.to.flatMap(({ name, whole }): LocationLink[] => {
            const [target, selection] = [locationOf(whole, places)[0], locationOf(name, places)[0]];
            return target === undefined || selection === undefined
              ? []
              : [
                  {
                    originSelectionRange: linesAt(lines, found.from),
                    targetUri: target.uri,
                    targetRange: target.range,
                    targetSelectionRange: selection.range,
                  },
                ];
          });
    }),
  );
  connection.onReferences(
    bound("references", null, async ({ textDocument, position, context }, { view, lines }) => {
      const others = await session.others(textDocument.uri);
      const places = placesAcross([view, ...others], session.uriOf);
      return referencesAt(view, offsetAt(lines, position), { declarations: context.includeDeclaration, others }).flatMap((place) =>
        locationOf(place, places),
      );
    }),
  );
  connection.onDocumentHighlight(
    bound("highlight", null, ({ position }, { view, lines }) =>
      highlightsAt(view, offsetAt(lines, position)).map(({ range, kind }) => ({
        range: linesAt(lines, range),
        kind: highlightKinds[kind],
      })),
    ),
  );
  connection.onPrepareRename(
    bound("rename", null, ({ position }, { view, lines }) => {
      const found = prepareRename(view, offsetAt(lines, position));
      return "refused" in found ? refusal(found) : { range: linesAt(lines, found.range), placeholder: found.name };
    }),
  );
  connection.onRenameRequest(
    bound("rename", null, async ({ textDocument, position, newName }, { view, lines }) => {
      const others = await session.others(textDocument.uri);
      const edits = rename(view, offsetAt(lines, position), newName, { others });
      return "refused" in edits ? refusal(edits) : (workspaceEdit(edits, placesAcross([view, ...others], session.uriOf)) ?? null);
    }),
  );
  connection.onDocumentSymbol(
    bound("symbols", null, (_, { view, lines }) => documentSymbols(view).map((symbol) => outline(symbol, lines))),
  );
  connection.onWorkspaceSymbol(async ({ query }) =>
    guarded(session, "symbols", [], async () => {
      const views = await session.others("");
      const places = placesAcross(views, session.uriOf);
      return workspaceSymbols(views, query).flatMap(({ thing, place }) =>
        locationOf(place, places).map((location) => ({
          name: thing.name,
          kind: symbolKinds[thing.kind],
          location,
          ...(thing.of !== undefined && { containerName: thing.of }),
        })),
      );
    }),
  );
  connection.onFoldingRanges(
    bound("folding", null, (_, { view, lines }) =>
      foldsOf(view).map(({ range, kind }) => {
        const { start, end } = linesAt(lines, range);
        return { startLine: start.line, endLine: end.line, ...(foldKinds[kind] !== undefined && { kind: foldKinds[kind] }) };
      }),
    ),
  );
  connection.onSelectionRanges(
    bound("selection", null, ({ positions }, { view, lines }) =>
      positions.map(
        (position) => selectionRange(selectionsAt(view, offsetAt(lines, position)), lines) ?? { range: { start: position, end: position } },
      ),
    ),
  );
  connection.onDocumentLinks(
    bound("links", null, (_, { view, lines }) =>
      linksOf(view).map((link) => ({
        range: linesAt(lines, link.range),
        target: link.kind === "book" ? session.uriOf(link.path) : link.address,
      })),
    ),
  );
  const tokens = (view: View, lines: LineMap, within?: Range): { data: number[] } => {
    const builder = new SemanticTokensBuilder();
    for (const { range, type, modifiers } of semanticTokens(view, within)) {
      if (plain.has(type) && session.colorsWords()) continue;
      const { line, character } = linesAt(lines, range).start;
      const bits = modifiers.reduce((all, modifier) => all | (1 << semanticTokenModifiers.indexOf(modifier)), 0);
      builder.push(line, character, range.end - range.start, semanticTokenTypes.indexOf(type), bits);
    }
    return builder.build();
  };
  connection.languages.semanticTokens.on(bound("colors", { data: [] }, (_, { view, lines }) => tokens(view, lines)));
  connection.languages.semanticTokens.onRange(
    bound("colors", { data: [] }, ({ range }, { view, lines }) => tokens(view, lines, rangeAt(lines, range))),
  );

  connection.onDocumentFormatting(bound("format", null, (_, { view, lines }) => formatting(view).map((edit) => textEdit(lines, edit))));
  connection.onDocumentRangeFormatting(
    bound("format", null, ({ range }, { view, lines }) =>
      rangeFormatting(view, rangeAt(lines, range)).map((edit) => textEdit(lines, edit)),
    ),
  );

  // What only the analysis knows waits for it.
  connection.onCodeLens(
    bound("lenses", null, async ({ textDocument: { uri } }) => {
      const view = session.lenses() ? await session.whole(uri) : undefined;
      return view === undefined
        ? []
        : lenses(view)
            .filter(({ kind }) => kind !== "rival" || session.knows(clientCommands.go))
            .map((lens) => ({
              range: linesAt(view.lines, lens.range),
              data: {
                uri,
                at: lens.range.start,
                kind: lens.kind,
                ...(lens.other !== undefined && { other: lens.other }),
              } satisfies LensData,
            }));
    }),
  );
  // Only what is in sight is worked out.
  connection.onCodeLensResolve((lens) =>
    guarded<CodeLens>(session, "lenses", lens, async () => {
      const { uri, at, kind, other } = lens.data as LensData;
      const view = session.view(uri);
      const same = view && lenses(view).find((one) => one.range.start === at && one.kind === kind && one.other === other);
      const said = view && same && lensText(view, same);
      const later = said === undefined && view !== undefined && same?.kind === "pattern" && session.want(view, same.index);
      const title = said?.text ?? (later ? serverWords.working : serverWords.tooMuch);
      return { ...lens, command: { title, command: "", ...(view && said?.leads && leading(session, view, said.leads, uri)) } };
    }),
  );
  connection.languages.inlayHint.on(
    bound("hints", null, async ({ textDocument, range }) => {
      const view = session.inlayHints() ? await session.whole(textDocument.uri) : undefined;
      return view === undefined
        ? []
        : inlayHints(view, rangeAt(view.lines, range)).map(({ offset, text }) => ({
            position: positionAt(view.lines, offset),
            label: text,
            kind: InlayHintKind.Type,
            paddingLeft: true,
          }));
    }),
  );
  connection.onCodeAction(
    bound("actions", null, async ({ textDocument: { uri }, range, context: { only } }, ready, token) => {
      const at = rangeAt(ready.lines, range);
      // What reading finds is mended without waiting for the rest.
      const isAtHand = ready.view.findings.some(
        (one) => one.path === ready.view.path && one.range.start <= at.end && one.range.end >= at.start,
      );
      const view = isAtHand ? ready.view : ((await Promise.race([session.whole(uri), after(PATIENCE)])) ?? session.view(uri));
      if (view?.text !== ready.view.text) return [];
      const actions = await actionsOf(
        view,
        at,
        { only, steps: session.steps(uri) },
        { pause: session.pause, stopped: () => token.isCancellationRequested || session.view(uri)?.model !== view.model },
      );
      const places = placesIn(view, session.uriOf);
      return actions.flatMap((action): CodeAction[] => {
        const edit = workspaceEdit(action.edits, places);
        return edit === undefined
          ? []
          : [
              {
                ...codeAction(action, edit, action.finding ? diagnosticOf(action.finding, places, session.diagnostics(uri)) : []),
                ...(session.knows(clientCommands.rename) && renaming(view, action, uri)),
              },
            ];
      });
    }),
  );
}

interface LensData {
  readonly uri: string;
  readonly at: number;
  readonly kind: string;
  readonly other?: number;
}

/** What a click does; nothing where the client does not know how. */
function leading(session: Session, view: View, leads: Leads, uri: string): Pick<Command, "command" | "arguments"> | undefined {
  const does = (command: string, ...rest: readonly unknown[]) => (session.knows(command) ? { command, arguments: [...rest] } : undefined);
  switch (leads.to) {
    case "rows":
      return does(clientCommands.rows, uri, leads.pick, leads.title);
    case "day": {
      const values = Object.entries(leads.example).map(([name, value]) => [
        name,
        typeof value === "string" ? value : value.join(", ") || "none",
      ]);
      return does(clientCommands.day, uri, Object.fromEntries(values));
    }
    case "pattern": {
      const [place] = locationOf(view.model.patterns[leads.pattern]!.namePlace, placesIn(view, session.uriOf));
      return place && does(clientCommands.go, place.uri, place.range);
    }
  }
}

type Answer<R> = R | ResponseError;

/** A handler for requests about one book, of which `empty` is the answer where there is no other. */
function binder(session: Session) {
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

async function guarded<R>(session: Session, what: string, empty: R, work: () => Promise<R>): Promise<R> {
  try {
    return await work();
  } catch (error) {
    session.fault(what, error);
    return empty;
  }
}

function refusal({ refused }: Refused): ResponseError {
  return new ResponseError<void>(LSPErrorCodes.RequestFailed, refused);
}

/** Finding by finding, each for so long; none once nobody wants them. */
async function actionsOf(view: View, range: Range, options: ActionOptions, manners: Manners): Promise<readonly Action[]> {
  const findings = [...view.findings, ...(view.analysis?.findings ?? [])].filter(
    (one) => one.path === view.path && one.range.start <= range.end && one.range.end >= range.start,
  );
  const asked = (kind: string): boolean =>
    options.only === undefined || options.only.some((one) => kind === one || kind.startsWith(`${one}.`) || one.startsWith(`${kind}.`));
  const rounds: (readonly [readonly Finding[], readonly string[]])[] = [
    ...(asked("quickfix") ? findings.map((finding) => [[finding], ["quickfix"]] as const) : []),
    ...(asked("refactor") ? [[[], options.only?.filter((one) => one.startsWith("refactor")) ?? ["refactor"]] as const] : []),
  ];
  const actions = new Map<string, Action>();
  for (const [some, only] of rounds) {
    await manners.pause();
    if (manners.stopped()) return [];
    const started = performance.now();
    const interrupted = (): boolean => performance.now() - started > TRIAL;
    const found = await inPieces(gatheringActions(view, range, some, { ...options, only, interrupted }), manners);
    if (found === undefined) return [];
    // One change may mend several findings: it is offered once.
    for (const one of found) actions.set(JSON.stringify(one.edits), actions.get(JSON.stringify(one.edits)) ?? one);
  }
  return [...actions.values()];
}

function codeAction({ title, kind, preferred }: Action, edit: WorkspaceEdit, diagnostics: CodeAction["diagnostics"] & object): CodeAction {
  return { title, kind, edit, ...(diagnostics.length > 0 && { diagnostics }), ...(preferred && { isPreferred: true }) };
}

/** A name that was made up is changed by the writer at once. */
function renaming(view: View, { title, edits, named }: Action, uri: string): Pick<CodeAction, "command"> {
  if (named === undefined) return {};
  const own = edits.filter(({ path }) => path === view.path);
  const after = lineMap(applied(new Map([[view.path, view.text]]), own).get(view.path)!);
  return { command: { title, command: clientCommands.rename, arguments: [uri, positionAt(after, named)] } };
}

function completionItem(
  { label, kind, detail, text, snippet, range, filter }: Completion,
  rank: number,
  lines: LineMap,
  snippets: boolean,
): CompletionItem {
  const filled = snippets && snippet !== undefined;
  return {
    label,
    kind: completionKinds[kind],
    ...(detail !== undefined && { detail }),
    sortText: String(rank).padStart(5, "0"),
    filterText: filter,
    insertTextFormat: filled ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: textEdit(lines, { range, text: filled ? snippet : text }),
  };
}

function outline({ kind, name, detail, range, nameRange, children }: DocumentSymbol, lines: LineMap): Outline {
  return {
    name,
    kind: symbolKinds[kind],
    range: linesAt(lines, range),
    selectionRange: linesAt(lines, nameRange),
    ...(detail !== undefined && { detail }),
    children: children.map((child) => outline(child, lines)),
  };
}

/** From the innermost outwards. */
function selectionRange(ranges: readonly Range[], lines: LineMap): SelectionRange | undefined {
  return [...ranges]
    .reverse()
    .reduce<SelectionRange | undefined>((parent, range) => ({ range: linesAt(lines, range), ...(parent && { parent }) }), undefined);
}

function placesAcross(views: readonly View[], uriOf: (path: string) => string): PositionsIn {
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

function after(delay: number): Promise<undefined> {
  return new Promise((done) => void setTimeout(() => done(undefined), delay));
}
