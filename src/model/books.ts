/**
 * The books that belong together: the one asked for and all that it builds on.
 *
 *     ramp.lore ──builds on──▶ blades.lore ──▶ common/conditions.lore        reading order: conditions, blades, ramp
 *         └────────builds on──────────────────────────▲                      a book reached twice is read once
 *
 * The book that builds on another is the more local of the two; books side by side are not ordered. Paths have forward slashes and
 * are found from the folder of the book that names them.
 */
import type { Finding, Place } from "../diagnostics.js";
import { severities } from "../diagnostics.js";
import * as say from "../messages/model.js";
import { besides, tidyPath } from "../paths.js";
import { isBlank } from "../syntax/concrete.js";
import { parse, type Parsed } from "../syntax/parse.js";
import { longestBook } from "../text.js";

/** How a face hands in the books that others build on: the text at a path (forward slashes, relative to where the root's path is relative to), or why it cannot be read, as the end of a sentence. Where two paths lead to one file, the second answers with `path`: the first. `parsed`, if there is one, is that text as it was parsed under that path. */
export type Read = (
  path: string,
) => { readonly text: string; readonly path?: string; readonly parsed?: Parsed } | { readonly problem: string };

export interface Shelf {
  /** In reading order; the last is the book asked for. */
  readonly books: readonly ShelvedBook[];
  readonly findings: readonly Finding[];
  /** Some book could not be read. */
  readonly somethingMissing: boolean;
  moreLocal(a: number, b: number): boolean;
}

interface ShelvedBook extends Parsed {
  readonly index: number;
  readonly buildsOn: readonly { readonly book: number; readonly place: Place }[];
}

export function readBooks(root: Parsed, read: Read): Shelf {
  const books: ShelvedBook[] = [];
  const byPath = new Map<string, number>();
  const findings: Finding[] = [];
  const answers = new Map<string, ReturnType<Read>>();
  let somethingMissing = false;
  const report = (place: Place, said: say.Said): void => void findings.push({ ...said, severity: severities[said.code], ...place });

  const shelve = (parsed: Parsed, trail: readonly string[]): number => {
    const path = tidyPath(parsed.path);
    const here = [...trail, path];
    const buildsOn: { book: number; place: Place }[] = [];
    for (const statement of parsed.tree.statements) {
      if (statement.kind !== "builds on" || statement.path === undefined || isBlank(statement.path.value)) continue;
      const place = { path: parsed.path, range: statement.path.range };
      const wanted = knownAs(besides(path, statement.path.value), here);
      if (here.includes(wanted)) {
        report(place, say.booksInCircle([...here.slice(here.indexOf(wanted)), wanted]));
        continue;
      }
      if (here.length > deepest) {
        report(place, say.unreadableBook(wanted, say.tooDeep(deepest)));
        continue;
      }
      const book = byPath.get(wanted) ?? open(wanted, place, here);
      if (book === undefined) continue;
      if (buildsOn.some((other) => other.book === book)) report(place, say.buildsOnTwice(wanted));
      else buildsOn.push({ book, place });
    }
    const index = books.length;
    books.push({ ...parsed, index, buildsOn });
    byPath.set(path, index);
    return index;
  };
  const ask = (path: string): ReturnType<Read> => {
    const answer = answers.get(path) ?? read(path);
    answers.set(path, answer);
    return answer;
  };
  const knownAs = (path: string, here: readonly string[]): string => {
    if (byPath.has(path) || here.includes(path)) return path;
    const answer = ask(path);
    return "text" in answer && answer.path !== undefined ? tidyPath(answer.path) : path;
  };
  const open = (path: string, place: Place, trail: readonly string[]): number | undefined => {
    const answer = ask(path);
    if ("text" in answer && answer.text.length <= longestBook) return shelve(parsedAs(path, answer) ?? parse(answer.text, path), trail);
    somethingMissing = true;
    report(place, say.unreadableBook(path, "problem" in answer ? answer.problem : say.bookTooLong(longestBook)));
    return undefined;
  };
  shelve(root, []);

  const under = books.map(() => new Set<number>());
  for (const { index, buildsOn } of books) {
    for (const { book } of buildsOn) {
      under[index]!.add(book);
      for (const below of under[book]!) under[index]!.add(below);
    }
  }
  return { books, findings, somethingMissing, moreLocal: (a, b) => under[a]?.has(b) ?? false };
}

function parsedAs(path: string, { text, parsed }: Extract<ReturnType<Read>, { readonly text: string }>): Parsed | undefined {
  return parsed?.path === path && parsed.text === text ? parsed : undefined;
}

/** How many books may stand on each other: more than anyone can keep in mind. */
const deepest = 64;

/** The candidates that no more local one overrules: one if it is settled, several if books side by side both have one. */
export function mostLocal<T extends { readonly book: number }>(shelf: Pick<Shelf, "moreLocal">, candidates: readonly T[]): readonly T[] {
  return candidates.filter((one) => !candidates.some((other) => shelf.moreLocal(other.book, one.book)));
}
