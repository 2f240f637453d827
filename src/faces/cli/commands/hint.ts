/** `waterlore hint`: the page about a kind of finding. */
import { commandRefusals } from "../../../messages/cli.js";
import { nearest } from "../../../suggest.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { hintCodes, pageOf } from "../../node/own-files.js";
import { print } from "../../node/streams.js";

export function hintCommand(code: string | undefined): ExitCode {
  const codes = hintCodes();
  if (code === undefined) {
    const titles = codes.map((word) => [word, pageOf(word).split("\n", 1)[0]!.replace(/^# /, "")] as const);
    const width = Math.max(...codes.map((word) => word.length));
    print(titles.map(([word, title]) => `${word.padEnd(width)}  ${title}\n`).join(""));
    return 0;
  }
  if (!codes.includes(code)) throw new CannotRun(commandRefusals.noHint(code, codes, nearest(code, codes)));
  print(pageOf(code));
  return 0;
}
