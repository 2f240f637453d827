/**
 * Books of an earlier revision, asked of git itself, without a shell and without changing anything.
 *
 *     HEAD~1:rules/x.lore  ──rev-parse──▶ commit  ──ls-tree──▶ paths    ──cat-file──▶ text
 */
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { isAbsolute, relative } from "node:path";
import { fileProblems } from "../../messages/cli.js";
import { compareRefusals } from "../../messages/compare.js";
import { byText, type Opened } from "../../text.js";
import { decode, largestBook } from "../files/decode.js";
import { CannotRun } from "./exit.js";
import { slashed } from "./paths.js";

export interface Revision {
  /** As it was named. */
  readonly name: string;
  readonly commit: string;
}

/** `REV:PATH`, unless there is a file of that whole name; undefined for a path. Throws `CannotRun`. */
export function atRevision(word: string): { readonly revision: Revision; readonly path: string } | undefined {
  const parts = /^([^:]+):(?![\\/]{2})(.*)$/su.exec(word);
  if (!parts || existsSync(word) || /^[A-Za-z]:[\\/]/.test(word)) return undefined;
  const [, name, path] = parts;
  return { revision: revisionOf(name!), path: path === "" ? "." : path! };
}

/** Throws `CannotRun` where there is no git, no repository, or no such revision. */
function revisionOf(name: string): Revision {
  if (git(["rev-parse", "--git-dir"]) === undefined) throw new CannotRun(compareRefusals.noRepository);
  const commit = git(["rev-parse", "--verify", "--quiet", "--end-of-options", `${name}^{commit}`])
    ?.toString("utf8")
    .trim();
  if (!commit) throw new CannotRun(compareRefusals.noRevision(name));
  return { name, commit };
}

/** Whether a path is a book or a folder in a revision; undefined if it is neither. */
export function kindAt({ commit }: Revision, path: string): "book" | "folder" | undefined {
  const kind = git(["cat-file", "-t", `${commit}:${inRepository(path)}`])
    ?.toString("utf8")
    .trim();
  return kind === "blob" ? "book" : kind === "tree" ? "folder" : undefined;
}

/** Paths of all books below a folder of a revision, from the working folder, in order. */
export function booksAt({ commit }: Revision, folder: string): readonly string[] {
  const listed = git(["ls-tree", "-r", "-z", "--name-only", commit, "--", inRepository(folder)])?.toString("utf8") ?? "";
  return listed
    .split("\0")
    .filter((path) => path.endsWith(".lore") && !path.split("/").includes("node_modules"))
    .sort(byText);
}

/** A book's text as it was. */
export function readAt({ commit }: Revision, path: string): Opened {
  const bytes = git(["cat-file", "blob", `${commit}:${inRepository(path)}`]);
  if (bytes === undefined) return { problem: fileProblems.notThen };
  return bytes.length > largestBook ? { problem: fileProblems.tooLarge } : decode(bytes);
}

/** A path as git reads it from the working folder. */
function inRepository(path: string): string {
  const from = slashed(isAbsolute(path) ? relative(process.cwd(), path) : path);
  return from === "" ? "./" : from.startsWith("../") || from.startsWith("./") ? from : `./${from}`;
}

/** What git says; undefined if it refuses. */
function git(words: readonly string[]): Buffer | undefined {
  try {
    return execFileSync("git", words, { stdio: ["ignore", "pipe", "ignore"], maxBuffer: 64 * 1024 * 1024 });
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") throw new CannotRun(compareRefusals.noGit);
    return undefined;
  }
}
