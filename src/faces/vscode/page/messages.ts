/** What the extension and the page of the table say to each other. */

/** A table as the page shows it: words only, and a number for each place to go to. */
export interface Shown {
  readonly title: string;
  readonly picks: readonly { readonly name: string; readonly label: string }[];
  /** Of the picks, the one that is shown. */
  readonly pick: string;
  /** Labels of the conditions, then of what is recommended. */
  readonly head: readonly string[];
  readonly rows: readonly ShownRow[];
  /** What the words in the cells mean, and what to mind. */
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
  /** A title: the rows that it decided are to be shown and marked from now on. */
  readonly marked?: string;
  /** A sentence, where the table does not tell all. */
  readonly warning?: string;
}
export interface ShownRow {
  /** Of the conditions, as many as `head` has labels of conditions. */
  readonly when: readonly string[];
  readonly answer: string;
  readonly status: string;
  readonly because: readonly { readonly title: string; readonly place: number }[];
}

export type ToPage =
  | { readonly kind: "table"; readonly table: Shown }
  /** There is no table, and why. */
  | { readonly kind: "nothing"; readonly text: string }
  /** What is shown is of an earlier text. */
  | { readonly kind: "working" };

export type FromPage =
  { readonly kind: "ready" } | { readonly kind: "pick"; readonly name: string } | { readonly kind: "go"; readonly place: number };

/** What the page remembers for when the window is opened again. */
export interface Remembered {
  readonly uri: string;
  readonly pick?: string;
}
