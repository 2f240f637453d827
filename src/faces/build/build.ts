/**
 * What is built, and from what:
 *
 *     grammar/, src/ ───────tsc──────▶ dist/grammar/, dist/src/     the library, module by module, and its types
 *     src/faces/cli/ ───────esbuild──▶ dist/cli/                    the command line; the code of a command is read when it is used
 *     src/publish/page/ ────esbuild──▶ dist/page/                   script and style of the published pages
 *     src/faces/desk/page/ ─esbuild──▶ dist/desk/                   script and style of the desk, and the language server as its worker
 *     src/publish/lookup/ ──esbuild──▶ dist/lookup/                 the module for web shops, and its types
 *
 * A folder is replaced whole, and only by another content: what runs from it meanwhile never meets half a program.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build as bundle, type BuildOptions } from "esbuild";
import { licenses } from "./licenses.js";

export const root = join(import.meta.dirname, "../../..");

/** Texts by file name. */
type Files = ReadonlyMap<string, string>;

/** Throws where something cannot be bundled, or, when all is built, where the types do not fit; what is wrong has been said then. */
export async function build(): Promise<void> {
  const compiler = ["node_modules/typescript/bin/tsc", "-b", "src/faces/vscode", "src/publish/page", "src/faces/desk/page"];
  const { status } = spawnSync(process.execPath, compiler, { cwd: root, stdio: "inherit" });
  const [cli, page, lookup, desk] = await Promise.all([cliFiles(), pageFiles(), lookupFiles(), deskFiles()]);
  put("dist/cli", cli);
  put("dist/page", page);
  put("dist/lookup", lookup);
  put("dist/desk", desk);
  if (status !== 0) throw new Error("The types do not fit.");
}

/** `page.js` and `page.css`. A page is one file and goes about alone, so its script has the licenses of what is in it at its end. */
export async function pageFiles(): Promise<Files> {
  return withLicenses({
    entryPoints: { page: "src/publish/page/main.ts", style: "src/publish/page/page.css" },
    entryNames: "page",
    minify: true,
    platform: "browser",
    format: "iife",
    target: "es2022",
  });
}

/** `desk.js`, `desk-style.css`, and `server.js`, the language server as a worker. */
export async function deskFiles(): Promise<Files> {
  return withLicenses({
    entryPoints: {
      desk: "src/faces/desk/page/main.ts",
      "desk-style": "src/faces/desk/page/desk.css",
      server: "src/faces/server/server-worker.ts",
    },
    entryNames: "[name]",
    minify: true,
    platform: "browser",
    format: "iife",
    target: "es2022",
  });
}

/** The tests' own program for times, which spawns the command line. */
export async function buildBench(): Promise<void> {
  const { files } = await bundled({
    entryPoints: ["test/bench/bench.ts"],
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
  });
  put("dist/bench", files);
}

/**
 * The packages that every start needs are bundled, since many small files take long to find, and so is what nobody has to install, the
 * reader of settings; the others stay where npm puts them. Of a package that has both, its ECMAScript modules are taken: no bundler can
 * follow how the others find their parts.
 */
async function cliFiles(): Promise<Files> {
  const { dependencies } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
    readonly dependencies: Readonly<Record<string, string>>;
  };
  const inside = ["chevrotain", "fraction.js"];
  const { files, texts } = await bundled({
    entryPoints: { waterlore: "src/faces/cli/main.ts" },
    splitting: true,
    platform: "node",
    format: "esm",
    target: "node20",
    mainFields: ["module", "main"],
    external: Object.keys(dependencies).filter((name) => !inside.includes(name)),
  });
  return new Map([...files, ["THIRD-PARTY-LICENSES.txt", texts]]);
}

async function lookupFiles(): Promise<Files> {
  const files = await withLicenses({ entryPoints: ["src/publish/lookup/lookup.ts"], minify: true, format: "esm", target: "es2020" });
  return new Map([...files, ["lookup.d.ts", readFileSync(join(root, "dist/src/publish/lookup/lookup.d.ts"), "utf8")]]);
}

/** The licenses as a comment at the end of each script. */
async function withLicenses(options: BuildOptions): Promise<Files> {
  const { files, texts } = await bundled(options);
  const comment = texts === "" ? "" : `/*!\n${texts.replaceAll("*/", "* /")}*/\n`;
  return new Map([...files].map(([name, text]) => [name, name.endsWith(".js") ? text + comment : text]));
}

async function bundled(options: BuildOptions): Promise<{ readonly files: Files; readonly texts: string }> {
  const { outputFiles, metafile } = await bundle({
    ...options,
    absWorkingDir: root,
    outdir: "out",
    bundle: true,
    write: false,
    metafile: true,
    legalComments: "none",
    logLevel: "warning",
  });
  const files = new Map(outputFiles.map(({ path, text }) => [path.slice(join(root, "out/").length), text]));
  return { files, texts: licenses(root, metafile) };
}

function put(folder: string, files: Files): void {
  const [there, next] = [join(root, folder), join(root, `${folder}-${process.pid}`)];
  if (holds(there, files)) return;
  mkdirSync(next, { recursive: true });
  for (const [name, text] of files) writeFileSync(join(next, name), text);
  rmSync(there, { recursive: true, force: true });
  renameSync(next, there);
}

function holds(folder: string, files: Files): boolean {
  try {
    const names = readdirSync(folder);
    return names.length === files.size && names.every((name) => readFileSync(join(folder, name), "utf8") === files.get(name));
  } catch {
    return false;
  }
}
