#!/usr/bin/env node
/** The program `waterlore`. It never ends itself, so that what it prints is never cut; a reader that stops reading is no fault. */
import { commandNotes, commandRefusals } from "../../messages/cli.js";
import { problemOf } from "../node/problems.js";
import { note } from "../node/streams.js";
import { run } from "./cli.js";

process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") return;
  process.exitCode = 2;
  note(commandRefusals.cannotWrite(commandNotes.stdout, problemOf(error)));
});
process.stderr.on("error", () => undefined);
const exit = await run(process.argv.slice(2));
process.exitCode ??= exit;
