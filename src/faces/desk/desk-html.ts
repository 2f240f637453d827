/**
 * The desk as one page with everything in it: its own script, the language server that it starts from memory, and the script and style of
 * the page that customers see. Nothing is fetched from anywhere but the folder's own server.
 */
import { deskWords } from "../../messages/desk.js";
import { markup, scriptJson } from "../../render/markup.js";
import { sha256 } from "../node/sha256.js";

/** Texts that `npm run build` makes. */
export interface DeskParts {
  readonly script: string;
  readonly style: string;
  readonly server: string;
  readonly page: { readonly script: string; readonly style: string };
}

export function deskPage({ script, style, server, page }: DeskParts): { readonly html: string; readonly policy: string } {
  const nonce = sha256(script).slice(0, 24);
  const hashes = { script: sha256(page.script.trim()), style: sha256(page.style.trim()) };
  const own = inline(script);
  // The preview is a page in memory, which these rules hold for as well as its own.
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${sha256(own)}' 'sha256-${hashes.script}'`,
    `style-src 'nonce-${nonce}' 'sha256-${hashes.style}'`,
    "worker-src blob:",
    "frame-src blob:",
    "connect-src 'self'",
    "img-src data:",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; ");
  return {
    policy,
    html: `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${markup(deskWords.title)}</title>
<link rel="icon" href="data:,">
<style nonce="${nonce}">${style.trim()}</style>
</head>
<body>
<p id="notice" role="status">${markup(deskWords.opening)}</p>
<main id="desk"></main>
<noscript><p>${markup(deskWords.noScript)}</p></noscript>
${data("server-code", server)}
${data("page-code", page.script)}
${data("page-style", page.style)}
<script type="application/json" id="page-hashes">${scriptJson(hashes)}</script>
<script>${own}</script>
</body>
</html>
`,
  };
}

/** A text that the page reads and the browser does not run. */
function data(id: string, text: string): string {
  return `<script type="text/plain" id="${id}">${inline(text)}</script>`;
}

/** Inside a script nothing may look like its end; in a string of a script, `\x3c/` reads the same. A page has no other ends of lines than its own. */
function inline(code: string): string {
  return code.replace(/\r\n?/g, "\n").replace(/<(\/script|!--)/gi, (_, rest: string) => `\\x3c${rest}`);
}
