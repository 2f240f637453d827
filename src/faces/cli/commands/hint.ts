/** `waterlore hint`: the page about a kind of finding. */
import { refusals } from "../../../messages/cli.js";
import { nearest } from "../../../suggest.js";
import { CannotRun, print, type ExitCode } from "../command.js";
import { ownFile, ownFiles } from "../../node/files.js";

const FOLDER = "src/hints";

export function hint(code: string | undefined): ExitCode {
  const codes = ownFiles(FOLDER)
    .filter((file) => file.endsWith(".md"))
    .map((file) => file.slice(0, -".md".length));
  if (code === undefined) {
    const titles = codes.map((word) => [word, pageOf(word).split("\n", 1)[0]!.replace(/^# /, "")] as const);
    const width = Math.max(...codes.map((word) => word.length));
    print(titles.map(([word, title]) => `${word.padEnd(width)}  ${title}\n`).join(""));
    return 0;
  }
  if (!codes.includes(code)) throw new CannotRun(refusals.noHint(code, codes, nearest(code, codes)));
  print(pageOf(code));
  return 0;
}

/** The page about a kind of finding, in Markdown. */
export function pageOf(code: string): string {
  const path = `${FOLDER}/${code}.md`;
  const page = ownFile(path);
  if ("problem" in page) throw new CannotRun(refusals.cannotRead(path, page.problem));
  return page.text;
}
