/**
 * The extension in a browser: the server runs in a worker, and asks the extension for the books it needs.
 *
 * The worker's text is read like any file and started from memory, since not every place that serves an extension lets a worker be
 * started from there.
 */
import { Uri, workspace, type ExtensionContext } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateWith } from "./activate.js";

export async function activate(context: ExtensionContext): Promise<void> {
  const code = await workspace.fs.readFile(Uri.joinPath(context.extensionUri, "server-worker.js"));
  const url = URL.createObjectURL(new Blob([new Uint8Array(code)], { type: "text/javascript" }));
  const worker = new Worker(url);
  context.subscriptions.push({
    dispose: () => {
      worker.terminate();
      URL.revokeObjectURL(url);
    },
  });
  await activateWith(context, (id, name, options) => new LanguageClient(id, name, worker, options));
}
