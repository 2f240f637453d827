/**
 * What a finding is. Every stage returns its value and its findings; a face turns them into text, JSON or squiggles.
 * All the sentences come from `messages.ts`.
 */
import type { Range } from "./text.js";

export type Severity = "error" | "warning" | "note";

/** Every code, with the severity it has unless a configuration says otherwise. One hint page per code stands in `src/hints/`. */
export const severities = {
  // A book that cannot be read as it stands.
  file: "error",
  syntax: "error",
  mixing: "error",
  name: "error",
  kind: "error",
  unit: "error",
  range: "error",
  duplicate: "error",
  circle: "error",
  // What the analysis finds.
  conflict: "error",
  gap: "error",
  hairline: "error",
  "nothing-possible": "error",
  promise: "error",
  "toss-up": "warning",
  waiting: "warning",
  "does-nothing": "warning",
  "changes-nothing": "warning",
  "never-recommended": "warning",
  "never-asked": "note",
  "set-clash": "warning",
  "not-closed": "warning",
  stale: "warning",
  budget: "warning",
} as const satisfies Record<string, Severity>;

export type Code = keyof typeof severities;

/** A place in a named book. */
export interface Place {
  readonly path: string;
  readonly range: Range;
}

export interface Related extends Place {
  readonly message: string;
}

export interface Edit extends Place {
  readonly text: string;
}

/** A change a machine may make: applied as a whole, it makes the finding go away. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly Edit[];
  /** It cannot change what is meant: one of the wrong forms that section 20 of the reference lists. `check --fix` takes no other. */
  readonly mends?: boolean;
}

/** A point, or part of one, as the book writes its values; every possible point that agrees with it has the finding's status. */
export type Example = Readonly<Record<string, string | readonly string[]>>;

export interface Finding extends Place {
  readonly code: Code;
  readonly severity: Severity;
  /** A headline, without a full stop: "Two patterns disagree". */
  readonly title: string;
  /** What it means here, with the example worked in, in sentences that read aloud. */
  readonly message: string;
  /** The next step, in a sentence. */
  readonly help: string;
  readonly pick?: string;
  /** Titles of the patterns it is about. */
  readonly patterns?: readonly string[];
  /** The whole region, as a test of the language. */
  readonly where?: string;
  readonly example?: Example;
  /** Exact fraction of all possible points: "1/24". */
  readonly share?: string;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
}
