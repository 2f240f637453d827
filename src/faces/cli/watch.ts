/**
 * `waterlore check --watch`: checks, and checks again whenever a book changes.
 *
 *     watcher ──starts──▶ the same command without --watch, a process of its own ──report──▶ the same terminal or pipe
 *        ▲                        │ which books it read
 *        └── a change: starts anew, ending one that still runs ◀┘
 *
 * A process of its own can be ended in the middle of its work, whether by the next change or by Ctrl-C. What it reports is all that it
 * would report without a watcher.
 */
import { watch as watchFiles } from "chokidar";
import { fork, type ChildProcess } from "node:child_process";
import { resolve, sep } from "node:path";
import { checkNotes, checkRefusals } from "../../messages/ci.js";
import type { CheckOptions, CheckSettings } from "../check/settings.js";
import { CannotRun, type ExitCode } from "../node/exit.js";
import { shownPath } from "../node/paths.js";
import { problemOf } from "../node/problems.js";
import { STDIN } from "../node/read.js";
import { note } from "../node/streams.js";

/** Editors write a file in several steps. Milliseconds. */
const SETTLED = 100;
const CLEAR = "\u001b[2J\u001b[H";

/** Ends with 0 when it is told to stop. `words` are those of the command line. */
export async function watch(settings: CheckSettings, options: CheckOptions, words: readonly string[]): Promise<ExitCode> {
  if (settings.paths.includes(STDIN)) throw new CannotRun(checkRefusals.watchStdin);
  for (const option of ["fix", "writeBaseline"] as const)
    if (options[option]) throw new CannotRun(checkRefusals.watchOnce(option === "fix" ? "--fix" : "--write-baseline"));
  const stopped = new Promise<void>((stop) => {
    process.once("SIGINT", stop);
    process.once("SIGTERM", stop);
  });
  const once = words.filter((word, at) => word !== "--watch" || words.slice(0, at).includes("--"));
  const beside = [settings.config?.file, settings.baseline].flatMap((file) => (file === undefined ? [] : [resolve(file)]));
  const places = settings.paths.map((path) => stillPart(resolve(settings.look.from ?? ".", path)));
  const files = new Set(beside);
  const watcher = watchFiles([...places, ...beside], {
    ignoreInitial: true,
    ignored: (path, stats) =>
      /(^|[\\/])(node_modules|\.git)$/.test(path) || (stats?.isFile() === true && !path.endsWith(".lore") && !files.has(resolve(path))),
  });

  let running: ChildProcess | undefined;
  let timer: NodeJS.Timeout | undefined;
  const start = (): void => {
    running?.kill();
    const child = fork(process.argv[1]!, once, { stdio: ["ignore", "inherit", "inherit", "ipc"] });
    running = child;
    child.on("message", (books: readonly string[]) => {
      for (const book of books) files.add(book);
      watcher.add([...books]);
    });
    child.on("exit", (_, signal) => {
      if (running !== child) return;
      running = undefined;
      if (signal === null) note(checkNotes.watching(files.size - beside.length));
    });
  };
  const again = (path: string): void => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      if (process.stdout.isTTY) process.stdout.write(CLEAR);
      note(checkNotes.changed(shownPath(path)));
      start();
    }, SETTLED);
  };
  watcher.on("add", again).on("change", again).on("unlink", again);
  watcher.on("error", (error) => note(checkRefusals.cannotWatch(problemOf(error))));
  watcher.once("ready", start);
  await stopped;
  clearTimeout(timer);
  running?.kill();
  running = undefined;
  await watcher.close();
  return 0;
}

/** The part of a path before the first sign of a pattern. */
function stillPart(path: string): string {
  const pattern = path.split(sep).findIndex((part) => /[*?[\]{}!()]/.test(part));
  return pattern < 0 ? path : path.split(sep).slice(0, pattern).join(sep) || sep;
}
