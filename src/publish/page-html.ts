/** The frame of every published page as HTML: one file, everything in it, nothing fetched. */
import { pageWords } from "../messages/publish.js";
import { changesHtml, type SinceLast } from "./editions.js";
import type { Facts } from "./facts.js";
import { markup, scriptJson } from "../render/markup.js";

export interface Assets {
  readonly script: string;
  readonly style: string;
  /** SHA-256 of a text in UTF-8, in base64. */
  readonly sha256: (text: string) => string;
}

export function bookPage(facts: Facts, packed: string, { script, style, sha256 }: Assets, changes?: SinceLast): string {
  const scripts = [script.trim()];
  return page(
    facts,
    facts.title,
    style.trim(),
    policy(scripts, style.trim(), sha256),
    `${masthead(facts, facts.title)}
<nav class="tabs" id="tabs" aria-label="${markup(pageWords.views)}"></nav>
<main id="views"><p>${markup(pageWords.loading)}</p><noscript><p>${markup(pageWords.noScript)}</p></noscript></main>
${
  changes
    ? `<details class="since"><summary>${markup(pageWords.since(changes.from))}</summary>${changesHtml(changes)}</details>
`
    : ""
}${footer(facts, `<p id="unit-choice"></p><p><a href="index.html">${markup(pageWords.shelf)}</a></p>${dataLinks(facts.data ?? [])}`)}
<script type="application/json" id="facts">${scriptJson(facts)}</script>
<script type="application/json" id="book">${packed}</script>
<script>${scripts[0]!}</script>`,
  );
}

export interface Shelved {
  readonly file: string;
  readonly facts: Facts;
}

export function indexPage(books: readonly Shelved[], facts: Facts, { style, sha256 }: Assets): string {
  const items = books.map(
    ({ file, facts: { title, water, edition, goodFrom, goodTo } }) =>
      `<li><a href="${markup(encodeURI(file))}">${markup(title)}</a><p>${[
        water,
        edition && pageWords.edition(edition),
        pageWords.dates(goodFrom, goodTo),
      ]
        .filter((part) => part !== undefined && part !== "")
        .map((part) => markup(part!))
        .join(" · ")}</p></li>`,
  );
  return page(
    facts,
    pageWords.indexTitle(facts.shop),
    style.trim(),
    policy([], style.trim(), sha256),
    `${masthead({ ...facts, shop: undefined }, pageWords.indexTitle(facts.shop))}
<main id="views"><p>${markup(pageWords.indexIntro)}</p><ul class="shelf">${items.join("")}</ul></main>
${footer(facts, "")}`,
  );
}

function page(facts: Facts, title: string, style: string, csp: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${csp}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<title>${markup(facts.draft ? `${title} (draft)` : title)}</title>
<link rel="icon" href="data:,">
<style>${style}</style>
</head>
<body>
${body}
</body>
</html>
`;
}

function masthead({ shop, water, edition, goodFrom, goodTo, draft }: Facts, title: string): string {
  const line = [shop, water, edition && pageWords.edition(edition), pageWords.dates(goodFrom, goodTo)].filter(
    (part) => part !== undefined && part !== "",
  );
  return `<header class="masthead"><h1>${markup(title)}</h1><p>${line.map((part) => markup(part!)).join(" · ")}</p></header>
${draft ? `<p class="draft">${markup(pageWords.draft)}</p>\n` : ""}<p class="dated" id="dated" hidden></p>`;
}

function footer({ on, draft }: Facts, more: string): string {
  return `<footer class="imprint-foot">${more}<p><strong>${markup(pageWords.localRules)}</strong></p><p>${markup(pageWords.general)}</p><p>${markup(pageWords.published(on))} ${markup(pageWords.stays)}${draft ? ` <strong>${markup(pageWords.draft)}</strong>` : ""}</p></footer>`;
}

function dataLinks(files: readonly string[]): string {
  if (files.length === 0) return "";
  return `<details><summary>${markup(pageWords.data)}</summary><ul>${files.map((file) => `<li><a href="${markup(encodeURI(file))}">${markup(file.split("/").at(-1)!)}</a></li>`).join("")}</ul></details>`;
}

/** Only the very script and style of this page run; nothing can be fetched or sent. */
function policy(scripts: readonly string[], style: string, sha256: Assets["sha256"]): string {
  const hashed = (one: string): string => `'sha256-${sha256(one)}'`;
  return `default-src 'none'; script-src ${scripts.length > 0 ? scripts.map(hashed).join(" ") : "'none'"}; style-src ${hashed(style)}; img-src data:; base-uri 'none'; form-action 'none'`;
}
