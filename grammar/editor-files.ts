/** The files that editors read, made from the words of the language: written by `npm run reference`, kept up to date by a test. */
import { snippetFile } from "./snippets.js";
import { languageConfiguration, loreGrammar, markdownInjection } from "./textmate.js";

/** Text by path from the top of the package. */
export function editorFiles(): ReadonlyMap<string, string> {
  const files = {
    "lore.tmLanguage.json": loreGrammar(),
    "lore-in-markdown.tmLanguage.json": markdownInjection(),
    "language-configuration.json": languageConfiguration(),
    "snippets.json": snippetFile(),
  };
  return new Map(Object.entries(files).map(([name, content]) => [`grammar/editors/${name}`, `${JSON.stringify(content, null, 2)}\n`]));
}
