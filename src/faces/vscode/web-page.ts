/** A page beside the book: it may load only its own script and styles, and sends back numbers and names, never text to run. */
import { Uri, type WebviewPanel } from "vscode";
import { markup } from "../../render/markup.js";

/** Fills a panel with the page of a name in `page/`; `book` is told to it. */
export function fillPage({ panel, extension, name, title, book }: PageOptions): void {
  const { webview } = panel;
  const file = (name: string): string => markup(webview.asWebviewUri(Uri.joinPath(extension, "page", name)).toString());
  const nonce = Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
  panel.iconPath = { light: Uri.joinPath(extension, "media/book-light.svg"), dark: Uri.joinPath(extension, "media/book-dark.svg") };
  webview.options = { enableScripts: true, localResourceRoots: [Uri.joinPath(extension, "page")] };
  webview.html = `<!DOCTYPE html>
<html lang="en">
<head>
  <meta charset="utf-8">
  <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src ${webview.cspSource}; script-src 'nonce-${nonce}'; base-uri 'none'; form-action 'none'">
  <link rel="stylesheet" href="${file("page.css")}">
  <link rel="stylesheet" href="${file(`${name}.css`)}">
  <title>${markup(title)}</title>
</head>
<body>
  <main data-book="${markup(book)}"></main>
  <script nonce="${nonce}" src="${file(`${name}.js`)}"></script>
</body>
</html>`;
}

interface PageOptions {
  readonly panel: WebviewPanel;
  readonly extension: Uri;
  readonly name: string;
  readonly title: string;
  /** URI. */
  readonly book: string;
}
