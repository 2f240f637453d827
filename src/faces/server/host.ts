/**
 * What the server needs of the place it runs in: files, the day, and a moment for others. A process of Node and a web worker
 * each bring their own (`server-node.ts`, `server-worker.ts`); nothing else here knows in which it runs.
 */
import type { Code } from "../../diagnostics.js";
import type { Opened } from "../../text.js";

export interface Files {
  /** The file at a URI, as far as is known now; undefined: nobody has looked yet. */
  known(uri: string): Opened | undefined;
  /** Looks at a file, after which it is known. Never fails. */
  look(uri: string): Promise<void>;
  /** It has changed since it was looked at. */
  forget(uri: string): void;
  /** Where a URI leads: the same for two that lead to one file. */
  real(uri: string): string;
  /** All books in and below some folders, by URI. Never fails. */
  books(folders: readonly string[]): Promise<readonly string[]>;
}

export interface Host {
  readonly files: Files;
  /** `2027-04-15` */
  today(): string;
  /** The address of the page about a kind of finding. */
  hintPage(code: Code): string | undefined;
  /** Comes back once messages that have arrived were looked at. */
  pause(): Promise<void>;
}
