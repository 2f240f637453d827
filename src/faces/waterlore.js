#!/usr/bin/env node
/** What npm links as `waterlore`. It is there before the first build too, so that the link always has a target. */
import { existsSync } from "node:fs";

const program = new URL("../../dist/cli/waterlore.js", import.meta.url);
if (existsSync(program)) await import(program.href);
else {
  process.stderr.write("Waterlore is not built yet. Build it with: npm ci\n");
  process.exitCode = 2;
}
