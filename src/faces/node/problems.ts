/** What went wrong with a file, as the end of a sentence: "there is no such file". */
import { problems } from "../../messages/cli.js";

export function problemOf(error: unknown): string {
  const code = isErrno(error) ? (error.code ?? "") : "";
  return problems.byCode[code] ?? problems.other(code);
}

export function isErrno(error: unknown): error is NodeJS.ErrnoException {
  return error instanceof Error && "code" in error;
}
