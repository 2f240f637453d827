/** Checks books given as texts, for the tests: all findings of parsing, resolving and analysing. */
import { analyse, type Analysis } from "../src/analysis/analyse.js";
import type { Edit, Finding } from "../src/diagnostics.js";
import type { Model } from "../src/model/model.js";
import { resolve } from "../src/model/resolve.js";
import { parse } from "../src/syntax/parse.js";

export interface Checked {
  readonly model: Model;
  readonly analysis: Analysis;
  readonly findings: readonly Finding[];
}

export type Texts = Readonly<Record<string, string>>;

/** The root is the last text given unless `root` says otherwise. */
export function check(
  texts: Texts | string,
  options: { readonly on?: string; readonly root?: string; readonly steps?: number } = {},
): Checked {
  const books: Texts = typeof texts === "string" ? { "book.lore": texts } : texts;
  const root = options.root ?? Object.keys(books)[Object.keys(books).length - 1]!;
  const read = (path: string) => (path in books ? { text: books[path]! } : { problem: "there is no such file" });
  const { model, findings } = resolve(parse(books[root]!, root), read, { on: options.on });
  const analysis = analyse(model, { steps: options.steps });
  return { model, analysis, findings: [...findings, ...analysis.findings] };
}

/** The books of an example: one, or several, each below its name, as in `-- county.lore`; the last is the one that is checked. */
export function booksOf(example: string): Texts | string {
  const [first, ...named] = example.split(/^-- (\S+\.lore)\n/m);
  return named.length === 0 ? first! : Object.fromEntries(named.flatMap((path, i) => (i % 2 === 0 ? [[path, named[i + 1]!]] : [])));
}

export function codes(findings: readonly Finding[]): string[] {
  return [...new Set(findings.map((finding) => finding.code))].sort();
}

/** The texts after a fix: edits apply from the end backwards. */
export function applied(texts: Texts, edits: readonly Edit[]): Texts {
  const result: Record<string, string> = { ...texts };
  for (const edit of [...edits].sort((a, b) => b.range.start - a.range.start))
    result[edit.path] = result[edit.path]!.slice(0, edit.range.start) + edit.text + result[edit.path]!.slice(edit.range.end);
  return result;
}
