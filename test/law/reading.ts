/** Books of the tests, from text to model. */
import type { Finding } from "../../src/diagnostics.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";

export type Texts = Readonly<Record<string, string>>;

/** The model of the book at `root`, and what reading found wrong: everything that the law's books must be free of. */
export function read(texts: Texts, root: string, on?: string): { readonly model: Model; readonly faults: readonly Finding[] } {
  const { model, findings } = resolve(
    parse(texts[root]!, root),
    (path) => (texts[path] === undefined ? { problem: "is not among the texts" } : { text: texts[path] }),
    { on },
  );
  return { model, faults: findings.filter(({ severity }) => severity === "error") };
}

/** Faults in words, for failures. */
export function faultsInWords(texts: Texts, faults: readonly Finding[]): readonly string[] {
  return faults.map(
    ({ code, path, range, title, message }) => `${code} at ${path} "${texts[path]?.slice(range.start, range.end)}": ${title}. ${message}`,
  );
}
