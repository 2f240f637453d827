/** Comparisons of whole shelves of books, as text, Markdown (GitHub Flavored Markdown) and data. */
import { compareWords } from "../messages/compare.js";
import type { Example } from "../diagnostics.js";
import { wrapped } from "../render/columns.js";
import { bold, escaped } from "../render/markdown.js";
import type { AnswerChange, Comparison, GroundChange, PickChange, Said } from "./compare.js";
import type { ConditionChange } from "./space.js";
import type { Change } from "./statements.js";
import { toldWithEdits, type Told } from "./told.js";
import type { WordChange } from "./words.js";

/** A book of either side, or of both. */
export interface ComparedBook {
  /** From the folders that are compared; of two books the newer one's path. */
  readonly path: string;
  readonly old?: BookSide;
  readonly new?: BookSide;
  /** There if the book is on both sides. */
  readonly comparison?: Comparison;
}
export interface BookSide {
  readonly path: string;
  readonly title: string;
  readonly edition?: string;
}

/** Whether anything is not the same, or not decided. */
export function differs({ comparison }: ComparedBook): boolean {
  return comparison === undefined || comparison.different || comparison.undecided.length > 0;
}

/** Ends in a line break. */
export function comparisonText(books: readonly ComparedBook[], { width = 80 }: { readonly width?: number } = {}): string {
  const texts = shown(books).map((book) => {
    const { heading, headline, sections } = toldOf(book);
    const lines = [
      ...wrapped(heading, width),
      ...wrapped(headline, width),
      ...sections.flatMap((section) => [
        "",
        ...wrapped(section.heading, width),
        ...section.items.flatMap(({ text, details }) => [
          ...wrapped(`- ${text}`, width - 2, 2).map((line) => `  ${line}`),
          ...details.flatMap((detail) => wrapped(detail, width - 6, 2).map((line) => `      ${line}`)),
        ]),
      ]),
    ];
    return lines.join("\n");
  });
  return `${[...texts, ...summary(books).map((text) => wrapped(text, width).join("\n"))].join("\n\n")}\n`;
}

/** For a comment under a proposed change. Ends in a line break. */
export function comparisonMarkdown(books: readonly ComparedBook[]): string {
  const texts = shown(books).map((book) => {
    const { heading, headline, sections } = toldOf(book);
    const parts = [
      `## ${escaped(heading)}`,
      bold(headline),
      ...sections.flatMap((section) => [
        `### ${escaped(section.heading)}`,
        section.items
          .map(({ text, details }) =>
            [`- ${details.length > 0 ? bold(text) : escaped(text)}`, ...details.map((detail) => `  - ${escaped(detail)}`)].join("\n"),
          )
          .join("\n"),
      ]),
    ];
    return parts.join("\n\n");
  });
  return `${[...texts, ...summary(books)].join("\n\n")}\n`;
}

/** Of several books those of which there is something to tell. */
function shown(books: readonly ComparedBook[]): readonly ComparedBook[] {
  return books.length === 1 ? books : books.filter((book) => differs(book) || toldOf(book).sections.length > 0);
}

function summary(books: readonly ComparedBook[]): readonly string[] {
  return books.length === 1 ? [] : [compareWords.summary(books.length, books.filter(differs).length)];
}

function toldOf({ path, old, new: now, comparison }: ComparedBook): Told & { readonly heading: string } {
  if (comparison)
    return {
      heading: compareWords.headline(compareWords.edition(old!.path, old!.edition), compareWords.edition(now!.path, now!.edition)),
      ...toldWithEdits(comparison),
    };
  return { heading: path, headline: old ? compareWords.onlyOld(path) : compareWords.onlyNew(path), sections: [] };
}

export interface ComparisonJson {
  readonly format: "waterlore-comparison";
  readonly version: 1;
  readonly different: boolean;
  readonly books: readonly BookJson[];
}
interface BookJson {
  readonly path: string;
  readonly old?: BookSide;
  readonly new?: BookSide;
  readonly different: boolean;
  /** There if the book is on both sides. */
  readonly changes?: readonly ChangeJson[];
  readonly possible?: readonly GroundJson[];
  readonly conditions?: readonly ConditionChange[];
  readonly picks?: readonly PickChange[];
  readonly patterns?: readonly { readonly title: string; readonly change: Change }[];
  readonly words?: readonly WordChange[];
  readonly undecided?: readonly string[];
}
interface ChangeJson {
  readonly pick: string;
  readonly judgement?: true;
  readonly before: Said;
  readonly after: Said;
  readonly where: string;
  readonly share: string;
  readonly example: Example;
  readonly causes: AnswerChange["causes"];
  readonly standing: AnswerChange["standing"];
}
interface GroundJson {
  readonly only: "old" | "new";
  readonly where: string;
  readonly share: string;
  readonly example: Example;
}

export function comparisonJson(books: readonly ComparedBook[]): ComparisonJson {
  return { format: "waterlore-comparison", version: 1, different: books.some(differs), books: books.map(bookJson) };
}

function bookJson(book: ComparedBook): BookJson {
  const { path, old, new: now, comparison } = book;
  const sides = { path, ...(old && { old }), ...(now && { new: now }), different: differs(book) };
  if (!comparison) return sides;
  const { changes, ground, conditions, picks, patterns, words, undecided } = comparison;
  return {
    ...sides,
    changes: changes.map(changeJson),
    possible: ground.map(({ only, where, share, example }: GroundChange): GroundJson => ({
      only: only === "before" ? "old" : "new",
      where,
      share: share.toFraction(),
      example,
    })),
    conditions,
    picks,
    patterns: patterns.map(({ title, change }) => ({ title, change })),
    words,
    undecided,
  };
}

function changeJson({ pick, judgement, before, after, where, share, example, causes, standing }: AnswerChange): ChangeJson {
  return {
    pick,
    ...(judgement && { judgement: true as const }),
    before,
    after,
    where,
    share: share.toFraction(),
    example,
    causes,
    standing,
  };
}
