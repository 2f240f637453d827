/** Markdown pages: kept while the window is open, shown by the editor's own preview. */
import { commands, EventEmitter, Uri, workspace, type ExtensionContext } from "vscode";

const scheme = "waterlore-page";

/** Returns what shows a page; one of the same name takes the place of the last. */
export function markdownPages(context: ExtensionContext): (name: string, markdown: string) => Promise<void> {
  const pages = new Map<string, string>();
  const changed = new EventEmitter<Uri>();
  context.subscriptions.push(
    changed,
    workspace.registerTextDocumentContentProvider(scheme, {
      onDidChange: changed.event,
      provideTextDocumentContent: (uri) => pages.get(uri.path) ?? "",
    }),
  );
  return async (name, markdown) => {
    const uri = Uri.from({ scheme, path: `/${name.replace(/[\\/?#]/g, " ")}.md` });
    pages.set(uri.path, markdown);
    changed.fire(uri);
    await commands.executeCommand("markdown.showPreviewToSide", uri);
  };
}
