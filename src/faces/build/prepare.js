/** npm's `prepare`, after `npm ci` and before packing: builds, unless the tools for that were left out (`npm ci --omit=dev`). */
import { existsSync } from "node:fs";

if (existsSync(new URL("../../../node_modules/tsx", import.meta.url))) {
  const { tsImport } = await import("tsx/esm/api");
  await tsImport("./build-main.ts", import.meta.url);
}
