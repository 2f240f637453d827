/** The extension on a computer of its own: the server runs beside it as a process of Node. */
import type { ExtensionContext } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { activateWith } from "./activate.js";
import { compareWithLastCommit } from "./last-commit.js";
import { offerCheck } from "./tasks.js";

export function activate(context: ExtensionContext): Promise<void> {
  const module = context.asAbsolutePath("server.js");
  offerCheck(context);
  return activateWith(context, (id, name, options) => new LanguageClient(id, name, { module, transport: TransportKind.ipc }, options), {
    compare: compareWithLastCommit(context),
  });
}
