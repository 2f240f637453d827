/** Files written whole or not at all. Each answers with the problem, as the end of a sentence, if there is one. */
import { randomUUID } from "node:crypto";
import {
  accessSync,
  chmodSync,
  chownSync,
  constants,
  existsSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileProblems } from "../../messages/cli.js";
import { isErrno, problemOf } from "./problems.js";
import { readText } from "./read.js";

/**
 * Replaces a file's text in one step, so that a reader finds the old text or the new and nothing between, whenever this is interrupted.
 * `before` is the text that was read: what somebody else has written since is left alone.
 */
export function replaceText(path: string, before: string, text: string): string | undefined {
  let aside: string | undefined;
  try {
    const target = realpathSync(path);
    accessSync(target, constants.W_OK);
    const { mode, uid, gid } = statSync(target);
    aside = join(dirname(target), `.${basename(target)}.${randomUUID()}.tmp`);
    writeFileSync(aside, text, { flag: "wx", flush: true });
    chmodSync(aside, mode);
    if (process.getuid?.() === 0) chownSync(aside, uid, gid);
    const now = readText(target);
    if ("text" in now && now.text === text) return undefined;
    if (!("text" in now) || now.text !== before) return fileProblems.changed;
    renameSync(aside, target);
    aside = undefined;
    return undefined;
  } catch (error) {
    return problemOf(error);
  } finally {
    if (aside !== undefined) rmSync(aside, { force: true });
  }
}

/** Writes a file that is not there yet. */
export function createText(path: string, text: string): string | undefined {
  try {
    writeFileSync(path, text, { flag: "wx" });
    return undefined;
  } catch (error) {
    return isErrno(error) && error.code === "ENOENT" ? fileProblems.noFolder : problemOf(error);
  }
}

/** Writes a file, whether it is there already or not; one that holds the text already is left alone. */
export function saveText(path: string, text: string): string | undefined {
  if (!existsSync(path)) return createText(path, text);
  const before = readText(path);
  if ("problem" in before) return before.problem;
  return before.text === text ? undefined : replaceText(path, before.text, text);
}
