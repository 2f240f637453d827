/**
 * `npm run vsix`: packs the extension for VS Code.
 *
 *     src/faces/vscode/, src/faces/server/ ──esbuild──▶ dist/extension/*.js     each one file, nothing to install beside it
 *     grammar/editors/, media/, README … ──copied────▶ dist/extension/
 *     manifest.ts ──────────────────────────written──▶ dist/extension/package.json ──vsce──▶ dist/waterlore.vsix
 */
import { createVSIX } from "@vscode/vsce";
import { build, type BuildOptions } from "esbuild";
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { licenses } from "../build/licenses.js";
import { manifest, type PackageFacts } from "./manifest.js";

const folder = "dist/extension";
const facts = JSON.parse(readFileSync("package.json", "utf8")) as PackageFacts;

rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const common: BuildOptions = {
  bundle: true,
  minify: true,
  legalComments: "none",
  metafile: true,
  logLevel: "warning",
  target: "es2022",
};
// Of a package that has both, its ECMAScript modules: no bundler can follow how the others find their parts.
const forNode: BuildOptions = { ...common, platform: "node", format: "cjs", external: ["vscode"], mainFields: ["module", "main"] };
/** The server looks for its pages beside its own file, which CommonJS names in another way. */
const ownPlace: BuildOptions = {
  define: { "import.meta.url": "ownUrl" },
  banner: { js: 'const ownUrl = require("node:url").pathToFileURL(__filename).href;' },
};
const forBrowser: BuildOptions = { ...common, platform: "browser" };
const built = await Promise.all([
  build({ ...forNode, entryPoints: ["src/faces/vscode/extension.ts"], outfile: `${folder}/extension.js` }),
  build({ ...forNode, ...ownPlace, entryPoints: ["src/faces/server/server-node.ts"], outfile: `${folder}/server.js` }),
  build({ ...forNode, ...ownPlace, entryPoints: ["src/faces/cli/check-main.ts"], outfile: `${folder}/check.js` }),
  build({ ...forNode, ...ownPlace, entryPoints: ["src/faces/cli/compare-main.ts"], outfile: `${folder}/compare.js` }),
  build({
    ...forBrowser,
    format: "cjs",
    external: ["vscode"],
    entryPoints: ["src/faces/vscode/extension-web.ts"],
    outfile: `${folder}/extension-web.js`,
  }),
  build({ ...forBrowser, format: "iife", entryPoints: ["src/faces/server/server-worker.ts"], outfile: `${folder}/server-worker.js` }),
  build({
    ...forBrowser,
    format: "iife",
    entryPoints: ["table", "answer"].map((page) => `src/faces/vscode/page/${page}.ts`),
    outdir: `${folder}/page`,
  }),
]);

const copies = {
  "grammar/editors": "grammar",
  "src/hints": "src/hints",
  "src/schema/configuration.json": "src/schema/configuration.json",
  "src/schema/baseline.json": "src/schema/baseline.json",
  "src/faces/vscode/media": "media",
  "src/faces/vscode/page/answer.css": "page/answer.css",
  "src/faces/vscode/page/page.css": "page/page.css",
  "src/faces/vscode/page/table.css": "page/table.css",
  "src/faces/vscode/extension-readme.md": "README.md",
  LICENSE: "LICENSE",
};
for (const [from, to] of Object.entries(copies))
  cpSync(from, `${folder}/${to}`, { recursive: true, filter: (file) => !file.endsWith("icon.svg") });
writeFileSync(`${folder}/THIRD-PARTY-LICENSES.txt`, licenses(".", ...built.map(({ metafile }) => metafile!)));
writeFileSync(`${folder}/package.json`, `${JSON.stringify(manifest(facts), null, 2)}\n`);

await createVSIX({ cwd: folder, packagePath: "dist/waterlore.vsix", dependencies: false, allowMissingRepository: true });
