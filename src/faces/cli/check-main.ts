/**
 * The check alone, for whoever has the VS Code extension and nothing else: what its task runs, packed into one file.
 *
 *     node check.js [PATHS …]        as `waterlore check`; without paths, what waterlore.json names, or else the working folder
 */
import { CannotRun } from "../node/exit.js";
import { configOf } from "../node/config.js";
import { note } from "../node/streams.js";
import { checkCommand } from "./commands/check.js";

async function check(words: readonly string[]): Promise<number> {
  try {
    const named = words.length > 0 || (await configOf(undefined))?.books?.length;
    return await checkCommand(named ? words : ["."], { format: "text", cache: true }, words);
  } catch (error) {
    if (!(error instanceof CannotRun)) throw error;
    note(error.message);
    return 2;
  }
}

void check(process.argv.slice(2)).then((exit) => (process.exitCode = exit));
