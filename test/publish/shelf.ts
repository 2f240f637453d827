/** The books that ship, read and answered once, for the tests of what is published from them. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { budget } from "../../src/analysis/budget.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import type { PictureSource } from "../../src/publish/picture.js";
import { parse } from "../../src/syntax/parse.js";
import { chartedFor } from "../../src/answer/closed.js";
import { together } from "../../src/answer/joint.js";

const rules = join(dirname(fileURLToPath(import.meta.url)), "..", "..", "rules");
export const texts: Readonly<Record<string, string>> = Object.fromEntries(
  readdirSync(rules, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".lore"))
    .map((file) => [file.split(sep).join("/"), readFileSync(join(rules, file), "utf8")]),
);

/** Those that recommend something. */
export const shipped: readonly string[] = Object.keys(texts).filter((path) => !path.startsWith("common/"));

export interface Read {
  readonly model: Model;
  readonly answers: Answers;
  sourceOf(pick: number): PictureSource;
}

const known = new Map<string, Read>();

export function readShipped(path: string): Read {
  let book = known.get(path);
  if (!book) known.set(path, (book = readBooks(texts, path)));
  return book;
}

export function readBooks(books: Readonly<Record<string, string>>, root: string): Read {
  const { model } = resolve(
    parse(books[root]!, root),
    (path) => (path in books ? { text: books[path]! } : { problem: "there is no such file" }),
    { on: "2027-04-15" },
  );
  const found = answers(model, { steps: 400_000 });
  const fresh = () => budget(400_000);
  return { model, answers: found, sourceOf: (pick) => ({ model, joint: together(chartedFor(found, pick), [pick], fresh()), fresh }) };
}
