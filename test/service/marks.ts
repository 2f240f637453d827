/**
 * Books as an editor holds them, for the tests, with places marked in their text:
 *
 *     pattern "Mud" go with blade ‸round            ‸ where the cursor stands (between two characters)
 *       when ⟨clarity⟩ is dirty                     ⟨ ⟩ a stretch; stretches may hold others
 *
 * `open(…)` takes the marks out and opens the book; `inRanges(text, ranges)` puts them back in, to compare what was found with what
 * was marked.
 */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { fileURLToPath } from "node:url";
import type { Place } from "../../src/diagnostics.js";
import type { Read } from "../../src/model/books.js";
import { thingKey, type Thing } from "../../src/model/names.js";
import { namesOf } from "../../src/service/names/names.js";
import { openView, type View } from "../../src/service/view.js";
import type { Range } from "../../src/text.js";

export type Texts = Readonly<Record<string, string>>;

export interface Marked {
  readonly text: string;
  readonly cursors: readonly number[];
  /** By where they start, the outer first. */
  readonly ranges: readonly Range[];
}

export function readMarks(marked: string): Marked {
  let text = "";
  const [cursors, ranges, starts]: [number[], Range[], number[]] = [[], [], []];
  for (const sign of marked.split(/([‸⟨⟩])/)) {
    if (sign === "‸") cursors.push(text.length);
    else if (sign === "⟨") starts.push(text.length);
    else if (sign === "⟩") ranges.push({ start: starts.pop()!, end: text.length });
    else text += sign;
  }
  if (starts.length > 0) throw new Error("a ⟨ without its ⟩");
  return { text, cursors, ranges: ranges.sort((a, b) => a.start - b.start || b.end - a.end) };
}

/** The text with marks around the ranges, which may lie in each other. */
export function inRanges(text: string, ranges: readonly Range[]): string {
  const marks = ranges
    .flatMap(({ start, end }) => [
      { at: start, sign: "⟨", order: start === end ? 1 : 2, length: start - end },
      { at: end, sign: "⟩", order: start === end ? 1 : 0, length: end - start },
    ])
    .sort((a, b) => a.at - b.at || a.order - b.order || a.length - b.length);
  let [marked, last] = ["", 0];
  for (const { at, sign } of marks) {
    marked += text.slice(last, at) + sign;
    last = at;
  }
  return marked + text.slice(last);
}

export interface Opened {
  readonly view: View;
  /** Without marks. */
  readonly texts: Texts;
  /** The first cursor in the opened book, 0 if there is none. */
  readonly cursor: number;
  /** Of all books, in the order given. */
  readonly ranges: readonly Place[];
}

/** Opens the last of the books, or the one at `root`. A single text stands at `book.lore`. */
export function open(books: string | Texts, { root, on }: { readonly root?: string; readonly on?: string } = {}): Opened {
  const marked = Object.entries(typeof books === "string" ? { "book.lore": books } : books).map(([path, text]) => ({
    path,
    ...readMarks(text),
  }));
  const texts = Object.fromEntries(marked.map(({ path, text }) => [path, text]));
  const path = root ?? marked.at(-1)!.path;
  return {
    view: openView(path, texts[path]!, reading(texts), { on }),
    texts,
    cursor: marked.find((book) => book.path === path)?.cursors[0] ?? 0,
    ranges: marked.flatMap((book) => book.ranges.map((range) => ({ path: book.path, range }))),
  };
}

/** All books with what was found in each in marks: to compare with books as they were marked. */
export function inPlaces(texts: Texts, places: readonly Place[]): Texts {
  return Object.fromEntries(
    Object.entries(texts).map(([path, text]) => [
      path,
      inRanges(
        text,
        places.filter((place) => place.path === path).map(({ range }) => range),
      ),
    ]),
  );
}

export function reading(texts: Texts): Read {
  return (path) => (path in texts ? { text: texts[path]! } : { problem: "there is no such file" });
}

/** All things that a book names, each once. */
export function thingsIn(view: View): readonly Thing[] {
  return [...new Map(namesOf(view).mentions.map(({ thing }) => [thingKey(thing), thing])).values()];
}

/** The books that ship, by their path in `rules/`. */
export function shippedBooks(): Texts {
  const rules = join(dirname(fileURLToPath(import.meta.url)), "..", "..", "rules");
  const files = readdirSync(rules, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".lore"))
    .sort();
  return Object.fromEntries(files.map((file) => [file.split(sep).join("/"), readFileSync(join(rules, file), "utf8")]));
}
