/**
 * What the files beside this one make: changes that may help. Whether one does is found out by trying it (`trial.ts`), so whoever
 * makes them may guess.
 *
 *     finding ──Mend──▶ candidates ──trial: is the finding gone, and nothing new broken?──▶ quick fixes
 *     place ──Rewrite──▶ candidates ──trial: does the book mean the same?──▶ refactorings
 */
import type { Code, Edit, Finding } from "../../diagnostics.js";
import type { Read } from "../../model/books.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";

export interface Candidate {
  readonly title: string;
  readonly edits: readonly Edit[];
  /** The one to take where one key mends: what is most likely meant. */
  readonly preferred?: boolean;
  /** The name it makes up, for the writer to change at once. */
  readonly name?: string;
}

/** What else there is to build on. */
export interface Beside {
  /** Of books, as the view's own would write their paths. */
  readonly paths?: readonly string[];
  /** The text of one of them, by a path such as the view's. */
  readonly read?: Read;
}

/** A kind of quick fix. */
export interface Mend {
  /** The findings it is for. */
  readonly codes: readonly Code[];
  /** Best first. */
  candidates(view: View, finding: Finding, beside: Beside): Iterable<Candidate>;
  /** How many that pass are enough; all, if not said. */
  readonly enough?: number;
}

/** A kind of refactoring: after it the book reads otherwise and answers the same. */
export interface Rewrite {
  readonly kind: "refactor.rewrite" | "refactor.extract";
  candidates(view: View, selection: Range): Iterable<Candidate>;
}
