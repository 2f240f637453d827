/** What completion offers, and what an offer depends on. */
import type { Range } from "../../text.js";
import type { View } from "../view.js";
import type { CompletionContext } from "./context.js";
import type { BookNames } from "./names.js";

export type CompletionKind =
  | "keyword"
  | "snippet"
  | "condition"
  | "level"
  | "member"
  | "band"
  | "group"
  | "situation"
  | "pick"
  | "judgement"
  | "option"
  | "comparing word"
  | "pattern"
  | "path"
  | "unit"
  | "value";

export interface Completion {
  /** What is shown in the list. */
  readonly label: string;
  readonly kind: CompletionKind;
  /** A few words beside it. */
  readonly detail?: string;
  /** Plain text that takes the place of `range`. */
  readonly text: string;
  /** The same in LSP snippet syntax, where it has places to fill in. */
  readonly snippet?: string;
  readonly range: Range;
  /** What the typed text is compared with. */
  readonly filter: string;
}

export interface CompletionOptions {
  /** Paths of books that could be built on, as this book would write them. */
  readonly paths?: () => readonly string[];
}

/** What a part of completion offers; the range is the word at the cursor, unless it says where it begins. */
export interface Offer extends Omit<Completion, "range" | "filter"> {
  /** Smaller ones first. */
  readonly rank: number;
  /** Where it begins, if before the word: `, then` takes the blank before it along. */
  readonly from?: number;
}

/** Everything an offer depends on. */
export interface Place {
  readonly view: View;
  readonly context: CompletionContext;
  readonly names: BookNames;
  readonly options: CompletionOptions;
}
