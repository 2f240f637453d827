/** Builds the bare page of `harness/page.ts` into a folder of its own. */
import { build } from "esbuild";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { texts } from "./shelf.js";

const top = join(import.meta.dirname, "../..");

/** The address of the page; what is shown goes after `#`: `view=wall&book=river.lore&clarity=muddy`. */
export async function chartPage(): Promise<{ readonly folder: string; readonly address: string }> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-charts-"));
  await build({
    entryPoints: [join(import.meta.dirname, "harness/page.ts")],
    outfile: join(folder, "page.js"),
    bundle: true,
    format: "iife",
    target: "es2022",
    minify: true,
    logLevel: "warning",
    define: { BOOKS: JSON.stringify(texts) },
  });
  const css = ["charts.css", "print.css"].map((name) => readFileSync(join(top, "src/publish/page", name), "utf8")).join("\n");
  writeFileSync(
    join(folder, "page.css"),
    `:root { color-scheme: light dark; font: 1rem/1.45 system-ui, sans-serif; } body { margin: 0; padding: 0.5rem; background: Canvas; color: CanvasText; }\n${css}`,
  );
  writeFileSync(
    join(folder, "index.html"),
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src file:; style-src file:"><title>Charts</title><link rel="stylesheet" href="page.css"></head><body><main><h1>Charts</h1></main><script src="page.js"></script></body></html>`,
  );
  return { folder, address: pathToFileURL(join(folder, "index.html")).href };
}
