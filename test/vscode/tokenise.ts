/** A text cut into colored pieces as VS Code does it: vscode-textmate over Oniguruma, on the files that ship. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import oniguruma from "vscode-oniguruma";
import textmate, { type IGrammar } from "vscode-textmate";
import { root } from "../root.js";

export interface Piece {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  /** From the outside in. */
  readonly scopes: readonly string[];
}

const files: Readonly<Record<string, string>> = {
  "source.lore": `${root}/grammar/editors/lore.tmLanguage.json`,
  "markdown.lore.codeblock": `${root}/grammar/editors/lore-in-markdown.tmLanguage.json`,
};
/** As much of a Markdown grammar as an injection can be tested with; the real one is tested in the real editor. */
const markdown = { scopeName: "text.html.markdown", patterns: [{ match: "#.*$", name: "markup.heading.markdown" }] };

await oniguruma.loadWASM(readFileSync(createRequire(import.meta.url).resolve("vscode-oniguruma/release/onig.wasm")).buffer);
const registry = new textmate.Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: (scope) => {
    const file = files[scope];
    const source = file === undefined ? (scope === markdown.scopeName ? JSON.stringify(markdown) : undefined) : readFileSync(file, "utf8");
    return Promise.resolve(source === undefined ? null : textmate.parseRawGrammar(source, `${scope}.json`));
  },
  getInjections: (scope) => (scope === markdown.scopeName ? ["markdown.lore.codeblock"] : []),
});

const lore = await loaded("source.lore");
const loreInMarkdown = await loaded(markdown.scopeName);

export function colored(text: string): Piece[] {
  return cut(lore, text);
}

export function coloredMarkdown(text: string): Piece[] {
  return cut(loreInMarkdown, text);
}

/** Offsets count over the whole text; blanks are left out. */
function cut(grammar: IGrammar, text: string): Piece[] {
  const pieces: Piece[] = [];
  let stack = textmate.INITIAL;
  let offset = 0;
  for (const line of text.split("\n")) {
    const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
    for (const { startIndex, endIndex, scopes } of tokens) {
      const part = line.slice(startIndex, endIndex);
      if (part.trim() !== "")
        pieces.push({ start: offset + startIndex, end: offset + Math.min(endIndex, line.length), text: part, scopes });
    }
    stack = ruleStack;
    offset += line.length + 1;
  }
  return pieces;
}

async function loaded(scope: string): Promise<IGrammar> {
  const grammar = await registry.loadGrammar(scope);
  if (grammar === null) throw new Error(`no grammar for ${scope}`);
  return grammar;
}
