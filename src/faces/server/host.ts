/**
 * What the server needs of the place it runs in: files, the day, and a moment for others. A process of Node and a web worker
 * each bring their own (`server-node.ts`, `server-worker.ts`); nothing else here knows in which it runs.
 */
import type { Code, Finding } from "../../diagnostics.js";
import type { Read } from "../../model/books.js";
import type { Opened } from "../../text.js";

export interface Files {
  /** The file at a URI, as far as is known now; undefined: nobody has looked yet. */
  known(uri: string): Opened | undefined;
  /** Looks at a file, after which it is known. Never fails. */
  look(uri: string): Promise<void>;
  /** It, or what is in it, has changed since it was looked at. */
  forget(uri: string): void;
  /** Where a URI leads: the same for two that lead to one file. */
  real(uri: string): string;
  /** All books in and below some folders, by URI. Never fails. */
  books(folders: readonly string[]): Promise<readonly string[]>;
  /** All stock lists, logs and whatever else is CSV in and below some folders, by URI. Never fails. */
  lists(folders: readonly string[]): Promise<readonly string[]>;
  /** Of some books, by URI, those that a check of their folder looks at. Never fails. */
  checked(uris: readonly string[]): Promise<readonly string[]>;
}

/** What came out for a book that is not open. */
export interface Findings {
  readonly reading: readonly Finding[];
  readonly analysis: readonly Finding[];
  /** All that was read or could not be, itself too, by path. */
  readonly asked: readonly string[];
}

/** Where that is kept from one start to the next (`node/cache.ts`). */
export interface Kept {
  /** What came out the last time, if it would come out again. */
  find(book: Book, read: (path: string) => Opened, how: How): Findings | undefined;
  /** To be used for the work: `read` in place of the one given, `keep` when it is done. */
  record(book: Book, read: Read, how: How): { readonly read: Read; keep(findings: Findings): void };
}
interface Book {
  readonly path: string;
  readonly text: string;
}
/** The day to look at it as of, and how long to try. */
export interface How {
  readonly on: string;
  readonly steps?: number;
}

export interface Host {
  readonly files: Files;
  /** `2027-04-15` */
  today(): string;
  /** `folder`: of the workspace; `storage`: a folder that the client has for such things. Undefined: nowhere. */
  kept?(folder: string, storage: string | undefined): Kept | undefined;
  /** The address of the page about a kind of finding. */
  hintPage(code: Code): string | undefined;
  /** Comes back once messages that have arrived were looked at. */
  pause(): Promise<void>;
}
