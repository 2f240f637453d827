/** What the extension and its pages say to each other: first the page of the table, then the one that explains an answer. */
import type { AnswerParts } from "../../../service/answer-parts.js";

/** A table as the page shows it: words only, and a number for each place to go to. */
export interface Shown {
  readonly title: string;
  readonly picks: readonly { readonly name: string; readonly label: string }[];
  /** Of the picks, the one that is shown. */
  readonly pick: string;
  readonly columns: readonly ShownColumn[];
  /** Of what is recommended. */
  readonly answer: ShownColumn;
  /** The first of them, where there are many; the others follow. */
  readonly rows: readonly ShownRow[];
  /** How many there are in all. */
  readonly total: number;
  /** What the words in the cells mean, and what to mind. */
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
  /** What closes everything, and where nothing is said on this pick: above the rows. */
  readonly closed: readonly string[];
  /** A sentence, where the table does not tell all. */
  readonly warning?: string;
}
export interface ShownColumn {
  readonly name: string;
  readonly label: string;
  /** Values by which rows can be narrowed. */
  readonly values: readonly string[];
}
export interface ShownRow {
  /** Of the conditions, one for each column. */
  readonly when: readonly string[];
  /** For each column, indexes of the values that may be so; null: any of them. */
  readonly fits: readonly (readonly number[] | null)[];
  readonly answer: string;
  readonly status: string;
  /** Indexes of values of the answer. */
  readonly options: readonly number[];
  readonly because: readonly { readonly title: string; readonly place: number }[];
}

export type ToPage =
  | { readonly kind: "table"; readonly table: Shown }
  /** More rows of the table that is shown. */
  | { readonly kind: "rows"; readonly rows: readonly ShownRow[] }
  /** The rows that a pattern decides are marked, and brought into sight; without a title, none. */
  | { readonly kind: "mark"; readonly title?: string }
  /** There is no table, and why. */
  | { readonly kind: "nothing"; readonly text: string }
  /** What is shown is of an earlier text, or of another pick. */
  | { readonly kind: "working" };

export type FromPage =
  { readonly kind: "ready" } | { readonly kind: "pick"; readonly name: string } | { readonly kind: "go"; readonly place: number };

/** What the page remembers for when the window is opened again. */
export interface Remembered {
  readonly uri: string;
  readonly pick?: string;
  readonly filters?: Filters;
}
/** What rows are narrowed by. */
export interface Filters {
  /** By column: a value of it. */
  readonly values: Readonly<Record<string, string>>;
  /** Words that a row must all have. */
  readonly text: string;
}

// The page that explains an answer ---------------------------------------------------------------------------------------

/** What was told, by condition. */
export type Told = Readonly<Record<string, string>>;

export type ToAnswer =
  | {
      readonly kind: "answer";
      readonly parts: AnswerParts;
      /** What it is the answer for. */
      readonly given: Told;
      /** Of the patterns that its sentences name; each can be gone to. */
      readonly titles: readonly string[];
      /** The last change that is in it. */
      readonly change: number;
    }
  /** There is no answer for what was told last, and why. */
  | { readonly kind: "problem"; readonly text: string; readonly change: number }
  | { readonly kind: "working" };

export type FromAnswer =
  | { readonly kind: "ready" }
  /** What is told was changed in the page; `change` counts how often. */
  | { readonly kind: "given"; readonly given: Told; readonly change: number }
  /** Index of a title. */
  | { readonly kind: "go"; readonly place: number };

export interface RememberedAnswer {
  readonly uri: string;
  readonly given: Told;
}
