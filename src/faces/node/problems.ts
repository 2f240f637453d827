/** What went wrong with a file, as the end of a sentence: "there is no such file". */
import { fileProblems } from "../../messages/cli.js";

export function problemOf(error: unknown): string {
  const code = isErrno(error) ? (error.code ?? "") : "";
  return fileProblems.byCode[code] ?? fileProblems.other(code);
}

export function isErrno(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && "code" in error;
}
