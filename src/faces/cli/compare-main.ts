/**
 * One book against the last commit, for the VS Code extension, packed into one file and run in the folder of the workspace. A process of
 * its own: however long it takes, nobody who types waits for it.
 *
 *     { "path": "rules/pier.lore", "open": { "rules/pier.lore": "book …" }, "on": "2027-04-15" }   ──stdin──▶  Markdown
 *
 * `open`: texts that the editor holds, saved or not. What cannot be done is said on standard error, and the exit code is 2.
 */
import { comparisonMarkdown } from "../../compare/report.js";
import { compare } from "../../compare/compare.js";
import { commandRefusals } from "../../messages/cli.js";
import type { Read } from "../../model/books.js";
import { CannotRun } from "../node/exit.js";
import { reader } from "../node/read.js";
import { settingsOf } from "../node/settings.js";
import { note, print } from "../node/streams.js";
import { bookOn, sideOf } from "./commands/compare.js";

interface Asked {
  readonly path: string;
  readonly open: Readonly<Record<string, string>>;
  /** `2027-04-15` */
  readonly on?: string;
}

async function answer({ path, open, on: day }: Asked): Promise<string> {
  const { on, steps } = await settingsOf({ ...(day !== undefined && { on: day }) });
  const before = await sideOf(`HEAD:${path}`);
  const files = reader([path]);
  const read: Read = (wanted) => (Object.hasOwn(open, wanted) ? { text: open[wanted]! } : files(wanted));
  const then = bookOn(before, "", on)!;
  const now = bookOn({ folder: false, books: new Map([["", path]]), read, shown: (book) => book }, "", on)!;
  const comparison = compare(then.model, now.model, steps === undefined ? {} : { steps });
  return comparisonMarkdown([{ path, old: then.side, new: now.side, comparison }]);
}

async function run(): Promise<number> {
  try {
    const chunks: Buffer[] = [];
    for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
    print(await answer(JSON.parse(Buffer.concat(chunks).toString("utf8")) as Asked));
    return 0;
  } catch (error) {
    note(error instanceof CannotRun ? error.message : commandRefusals.fault(error instanceof Error ? error.message : String(error)));
    return 2;
  }
}

void run().then((exit) => (process.exitCode = exit));
