/**
 * The table that binds requests to features: what the client asks, which function of `src/service/` answers, and how that is written down
 * in the protocol.
 *
 *     textDocument/references { uri, position } ──▶ view, offset ──referencesAt──▶ places ──▶ Location[]
 *
 * Nothing here decides what anything means, and no fault of ours reaches the client: it is logged, and the answer is empty.
 */
import { CodeActionKind, type Connection, type ServerCapabilities } from "vscode-languageserver";
import { semanticTokenModifiers, semanticTokenTypes } from "../../../service/semantic-tokens.js";
import { bindActions } from "./actions.js";
import { bindHover } from "./hover.js";
import { bindNames } from "./names.js";
import { bindOutline } from "./outline.js";
import type { Session } from "./session.js";
import { bindWriting } from "./writing.js";

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

export function bindFeatures(connection: Connection, session: Session): void {
  for (const bind of [bindWriting, bindHover, bindNames, bindOutline, bindActions]) bind(connection, session);
}
