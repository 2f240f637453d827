/** `waterlore publish`: books as a website in one folder. */
import { mkdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { analyse, STEPS } from "../../../analysis/analyse.js";
import { answers } from "../../../analysis/answers.js";
import { compare } from "../../../compare/compare.js";
import { commandRefusals } from "../../../messages/cli.js";
import { publishNotes, publishRefusals } from "../../../messages/publish.js";
import { resolve } from "../../../model/resolve.js";
import { dataFiles } from "../../../publish/data-files.js";
import { sinceLast } from "../../../publish/editions.js";
import { recommends, siteOf } from "../../../publish/site.js";
import { parse } from "../../../syntax/parse.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { booksOrStop } from "../../node/find-books.js";
import { builtFile } from "../../node/own-files.js";
import { sha256 } from "../../node/sha256.js";
import { shownPath } from "../../node/paths.js";
import { problemOf } from "../../node/problems.js";
import { reader } from "../../node/read.js";
import { settingsOf, type SettingOptions } from "../../node/settings.js";
import { openBook } from "../../node/source.js";
import { note } from "../../node/streams.js";
import { saveText } from "../../node/write.js";
import { bookOn, sideOf, type ComparedSide } from "./compare.js";

export interface PublishOptions extends SettingOptions {
  readonly to: string;
  readonly draft?: boolean;
  readonly address?: string;
  /** The last edition, as `compare` takes it. */
  readonly since?: string;
}

export async function publishCommand(
  paths: readonly string[],
  { to, draft = false, address, since, ...options }: PublishOptions,
): Promise<ExitCode> {
  const { on, steps } = await settingsOf(options);
  const books = await booksOrStop(paths);
  const read = reader(books);
  const checked = books.map((path) => {
    const opened = openBook(path, {});
    if ("problem" in opened) throw new CannotRun(opened.problem);
    const { model, findings } = resolve(parse(opened.text, opened.path), read, { on });
    const bad = [...findings, ...analyse(model, { steps }).findings].some(({ severity }) => severity === "error");
    return { path: opened.path, model, bad };
  });
  const bad = checked.filter((book) => book.bad).map(({ path }) => path);
  if (bad.length > 0 && !draft) {
    note(publishRefusals.errors(bad));
    return 1;
  }
  if (!checked.some(recommends)) throw new CannotRun(publishRefusals.nothing);
  const last = since === undefined ? undefined : await sideOf(since);
  const withData = checked.map((book) => {
    if (!recommends(book)) return book;
    const before = last && bookOn(last, lastOf(last, book.path, checked.length), on);
    return {
      ...book,
      data: dataFiles(book.model, answers(book.model, { steps: steps ?? STEPS })),
      ...(before && { changes: sinceLast(compare(before.model, book.model, { steps })) }),
    };
  });
  const pages = siteOf(
    withData,
    { on, draft: bad.length > 0, ...(address !== undefined && { address }) },
    { script: built("dist/page/page.js"), style: built("dist/page/page.css"), sha256 },
  );
  const files = new Map([...pages, ...["lookup.js", "lookup.d.ts"].map((name) => [name, built(`dist/lookup/${name}`)] as const)]);
  try {
    for (const name of files.keys()) mkdirSync(dirname(join(to, name)), { recursive: true });
  } catch (error) {
    throw new CannotRun(commandRefusals.cannotWrite(shownPath(to), problemOf(error)));
  }
  for (const [name, text] of files) {
    const problem = saveText(join(to, name), text);
    if (problem !== undefined) throw new CannotRun(commandRefusals.cannotWrite(shownPath(join(to, name)), problem));
  }
  note(publishNotes.wrote(files.size, shownPath(to)));
  return 0;
}

/** What the last edition calls a book: the name in its folder that the path ends with. A single book was the edition before of a single one. */
function lastOf({ folder, books }: ComparedSide, path: string, count: number): string {
  if (!folder) return count === 1 ? "" : path;
  return [...books.keys()].filter((key) => path === key || path.endsWith(`/${key}`)).sort((a, b) => b.length - a.length)[0] ?? path;
}

/** Script and style of the pages and the module for others, made by `npm run build`. */
function built(path: string): string {
  return builtFile(path, publishRefusals.noPage);
}
