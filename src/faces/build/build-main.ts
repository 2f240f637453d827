/** `npm run build`; with `--anew` from nothing, with `--bench` the bench too. */
import { rmSync } from "node:fs";
import { join } from "node:path";
import { build, buildBench, root } from "./build.js";

if (process.argv.includes("--anew")) rmSync(join(root, "dist"), { recursive: true, force: true });
try {
  await build();
  if (process.argv.includes("--bench")) await buildBench();
} catch (problem) {
  process.stderr.write(`Not built: ${problem instanceof Error ? problem.message : String(problem)}\n`);
  process.exitCode = 1;
}
