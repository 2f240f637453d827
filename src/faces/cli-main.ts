#!/usr/bin/env node
/** The program `waterlore`. It never ends itself, so that what it prints is never cut; a reader that stops reading is no fault. */
import { run } from "./cli.js";

for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") process.exitCode = 2;
  });
}
const exit = await run(process.argv.slice(2));
process.exitCode ??= exit;
