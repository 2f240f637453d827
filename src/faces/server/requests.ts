/**
 * What the server understands, and asks, beyond the protocol: for a client that shows tables, explains answers, or holds the files itself.
 *
 *     client ──waterlore/table, waterlore/page …──▶ server          server ──waterlore/read, waterlore/files──▶ client
 *
 * Positions are the protocol's. A request about a book that is not open, or cannot be answered, has `problem`, a sentence.
 */
import type { Location, Position, TextDocumentIdentifier } from "vscode-languageserver";
import type { AnswerParts } from "../../service/answer-parts.js";
import type { Questions } from "../../service/questions.js";
import type { Subject } from "../../service/subject.js";
import type { Facts } from "../../publish/facts.js";
import type { Opened } from "../../text.js";

/** `TableParams` → `TableAnswer`. */
export const TABLE = "waterlore/table";
/** `SubjectParams` → `SubjectAnswer`. */
export const SUBJECT = "waterlore/subject";
/** `ExplainParams` → `ExplainAnswer`. */
export const EXPLAIN = "waterlore/explain";
/** `AskParams` → `AskAnswer`. */
export const ASK = "waterlore/ask";
/** `StandingParams` → `StandingAnswer`. */
export const STANDING = "waterlore/standing";
/** `PageParams` → `PageAnswer`. */
export const PAGE = "waterlore/page";
/** From server to client, `WritingParams`, a notification: only to one that said `"writing": true` in its `initializationOptions`. */
export const WRITING = "waterlore/writing";
/** From client to server, `CursorParams`, a notification, while `waterlore/writing` holds: what waits is told once the statement is left. */
export const CURSOR = "waterlore/cursor";
/** From server to client, `{ uri }` → `FileAnswer`: the text of a file. Asked only by the server for web workers. */
export const READ = "waterlore/read";
/** From server to client, `FilesParams` → the URIs of all books of the workspace, or of all its files of another ending. Asked only by the server for web workers. */
export const FILES = "waterlore/files";

/**
 * Commands that a client may know: it names those it does in its `initializationOptions`, as `{ "commands": [ … ] }`, and is told what
 * else can be done only in these.
 */
export const clientCommands = {
  /** `[uri, position]`: a name that has just been made up is renamed. */
  rename: "waterlore.renameHere",
  /** `[uri, pick, pattern title]`: the table of a pick, at the rows that a pattern decides. */
  rows: "waterlore.showRows",
  /** `[uri, values by condition]`: what is recommended on a day, and why. */
  day: "waterlore.showDay",
  /** `[uri, range]`: goes to another pattern. */
  go: "waterlore.goTo",
} as const;

/** Names of pattern and where its title stands. */
export interface Reason extends Location {
  readonly title: string;
}

export interface TableParams {
  readonly textDocument: TextDocumentIdentifier;
  /** Names of the picks wanted; all that are no judgements, if not said. */
  readonly picks?: readonly string[];
}
export interface TableAnswer {
  /** Of the text that it was made from. */
  readonly version?: number;
  /** "Bladed baits, Hollin Reservoir. Hollin Landing, 2027 spring …" */
  readonly headline?: string;
  /** Every pick that there could be a table of, whether asked for or not. */
  readonly picks?: readonly { readonly name: string; readonly label: string }[];
  readonly charts?: readonly TableChart[];
  /** What the names of bands and groups in the cells mean, a sentence each. */
  readonly legend?: readonly string[];
  readonly cautions?: readonly string[];
  /** What closes everything, and where. */
  readonly closed?: readonly string[];
  readonly problem?: string;
}
/** The table of one pick. */
export interface TableChart {
  readonly pick: string;
  readonly label: string;
  /** Labels of the conditions, one for each cell of a row. */
  readonly head: readonly string[];
  /** What each of them is called in the book, and the values by which rows can be narrowed. */
  readonly columns: readonly { readonly name: string; readonly values: readonly string[] }[];
  /** Of the pick, in book order. */
  readonly options: readonly string[];
  readonly rows: readonly TableRow[];
  /** Where nothing is said on it, and why. */
  readonly silences: readonly string[];
  /** Why there is none, in a sentence. */
  readonly problem?: string;
}
export interface TableRow {
  /** "dirty or muddy", "any" … */
  readonly cells: readonly string[];
  /** For each cell, indexes of the values of its column that may be so in this row; null: any of them. */
  readonly fits: readonly (readonly number[] | null)[];
  /** "colorado, then indiana", "no advice" … */
  readonly answer: string;
  readonly status: string;
  /** Indexes of the options that it recommends, in whatever place. */
  readonly options: readonly number[];
  /** The patterns that decided, in book order. */
  readonly because: readonly Reason[];
}

export interface SubjectParams {
  readonly textDocument: TextDocumentIdentifier;
  readonly position: Position;
}
/** What is written about at a place. */
export interface SubjectAnswer extends Partial<Subject> {
  readonly version?: number;
  readonly problem?: string;
}

export interface ExplainParams {
  readonly textDocument: TextDocumentIdentifier;
  /** By the name or label of a condition, as written in the book or said by a customer; what is not named is unknown. */
  readonly given: Readonly<Record<string, string>>;
}
export interface ExplainAnswer {
  readonly version?: number;
  /** Lines that read aloud, for a terminal or a plain view. */
  readonly text?: string;
  readonly markdown?: string;
  /** For a page on which what was told can be changed. */
  readonly parts?: AnswerParts;
  /** The patterns that it names, in book order. */
  readonly because?: readonly Reason[];
  /** What is wrong with the values, a sentence for each. */
  readonly problem?: string;
}

export interface AskParams extends ExplainParams {
  /** Names of conditions of which the customer does not know the value. */
  readonly unknown?: readonly string[];
}
/** The best question first; none: nothing that could be asked changes any answer. */
export interface AskAnswer {
  readonly version?: number;
  readonly title?: string;
  readonly questions?: Questions["questions"];
  readonly problem?: string;
}

export interface StandingParams {
  readonly textDocument: TextDocumentIdentifier;
}
export interface StandingAnswer {
  readonly version?: number;
  /** "97 %": of the least answered pick; absent where the book picks nothing. */
  readonly answered?: string;
  readonly picks?: readonly { readonly label: string; readonly answered: string }[];
  /** How many errors and warnings there are, and the one to settle first. */
  readonly open?: number;
  readonly next?: Location & { readonly title: string };
  readonly promises?: readonly PromiseStanding[];
  readonly problem?: string;
}
export interface PromiseStanding extends Location {
  readonly title: string;
  /** `open`: there was not time enough to tell. */
  readonly state: "holds" | "open" | "fails";
  /** Where it fails: a day, by condition, and the same said. */
  readonly example?: string;
}

export interface PageParams {
  readonly textDocument: TextDocumentIdentifier;
}
/** What a page that customers see is made of (`bookPage` of `src/publish/page-html.ts`); a draft where the book has mistakes in it. */
export interface PageAnswer {
  readonly version?: number;
  readonly facts?: Facts;
  readonly packed?: string;
  readonly problem?: string;
}

/**
 * While somebody writes, what is wrong in the statement at hand waits for a pause, and what is mended by writing on until the statement is
 * left or the book is saved: the book is neither clean nor wrong.
 */
export interface WritingParams {
  readonly uri: string;
  readonly writing: boolean;
}

export interface CursorParams {
  readonly uri: string;
  /** Absent: it is in another file. */
  readonly position?: Position;
}

export interface FilesParams {
  /** Without a dot; `lore`, if not said. */
  readonly ending?: string;
}
export interface FileParams {
  readonly uri: string;
}
export type FileAnswer = Opened;
