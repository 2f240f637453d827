/** The package as it is published: packed, installed in an empty folder, run, and used from a program. */
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { root } from "../root.js";

const folder = mkdtempSync(join(tmpdir(), "waterlore-package-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const environment = Object.fromEntries(
  Object.entries(process.env).filter(([name]) => !/^(npm_|INIT_CWD$|NODE_OPTIONS$|VITEST)/i.test(name)),
);
function done(command: string, ...words: string[]): { readonly exit: number | null; readonly out: string; readonly err: string } {
  const { status, stdout, stderr } = spawnSync(command, words, { cwd: folder, encoding: "utf8", env: environment });
  return { exit: status, out: stdout, err: stderr };
}

let packed: readonly string[] = [];
const readme = readFileSync(join(root, "README.md"), "utf8");

beforeAll(() => {
  // What was built for the tests is packed as it is: packing as for a release would build anew under the other tests' feet.
  const pack = spawnSync("npm", ["pack", "--ignore-scripts", "--json", "--pack-destination", folder], {
    cwd: root,
    encoding: "utf8",
    env: environment,
  });
  expect(pack.status, pack.stderr).toBe(0);
  const [tarball] = readdirSync(folder).filter((file) => file.endsWith(".tgz"));
  packed = spawnSync("tar", ["-tzf", join(folder, tarball!)], { encoding: "utf8" })
    .stdout.trim()
    .split("\n")
    .map((path) => path.replace(/^package\//, ""));
  writeFileSync(join(folder, "package.json"), '{ "name": "shop", "private": true, "type": "module" }');
  const install = done("npm", "install", "--prefer-offline", "--no-audit", "--no-fund", "--ignore-scripts", join(folder, tarball!));
  expect(install.exit, install.err).toBe(0);
}, 120_000);

describe("what is in it", () => {
  test("only what a user needs", () => {
    const kinds = [
      /^dist\/cli\/([\w-]+\.js|THIRD-PARTY-LICENSES\.txt)$/,
      /^dist\/page\/page\.(js|css)$/,
      /^dist\/desk\/(desk|server)\.js$/,
      /^dist\/desk\/desk-style\.css$/,
      /^dist\/lookup\/lookup\.(js|d\.ts)$/,
      /^dist\/(grammar|src)\/[\w/-]+\.(js|d\.ts)$/,
      /^src\/faces\/waterlore\.js$/,
      /^src\/(hints\/[\w-]+\.md|schema\/[\w-]+\.json)$/,
      /^rules\/[\w/-]+\.(lore|csv)$/,
      /^grammar\/editors\/[\w.-]+\.json$/,
      /^(grammar\/reference|README|CHANGELOG)\.md$/,
      /^(LICENSE|package\.json)$/,
    ];
    expect(packed.filter((path) => !kinds.some((kind) => kind.test(path)))).toEqual([]);
    expect(packed.filter((path) => path.startsWith("dist/src/faces/"))).toEqual(
      expect.arrayContaining(["dist/src/faces/prettier-plugin.d.ts", "dist/src/faces/prettier-plugin.js"]),
    );
    expect(packed).not.toContain("dist/src/faces/cli.js");
  });

  test("all that it refers to", () => {
    const manifest = JSON.parse(readFileSync(join(folder, "node_modules/waterlore/package.json"), "utf8"));
    const files = [
      manifest.bin.waterlore,
      ...Object.values<string | Record<string, string>>(manifest.exports).flatMap((target) =>
        typeof target === "string" ? [target] : Object.values(target),
      ),
    ];
    for (const file of files) expect(existsSync(join(folder, "node_modules/waterlore", file.replace(/\*$/, ""))), file).toBe(true);
    // Every package that the built code imports is one that is installed with it.
    const code = packed
      .filter((path) => path.endsWith(".js"))
      .map((path) => readFileSync(join(folder, "node_modules/waterlore", path), "utf8"))
      .join("\n");
    const imported = [...code.matchAll(/^(?:import|export)\b[^;"]*?\bfrom\s*"([^".][^"]*)"|\bimport\("([^".][^"]*)"\)/gm)].map(
      (match) => match[1] ?? match[2]!,
    );
    const names = new Set(imported.filter((name) => !name.startsWith("node:")).map((name) => /^(?:@[^/]+\/)?[^/]+/.exec(name)![0]));
    expect([...names].sort()).toEqual(Object.keys(manifest.dependencies).sort());
  });
});

describe("installed in an empty folder", () => {
  test("the command line runs: a new book, its check, its table, a page and a schema", { timeout: 60_000 }, () => {
    rmSync(join(folder, "mine.lore"), { force: true });
    expect(done("npx", "waterlore", "new", "mine.lore")).toMatchObject({ exit: 0 });
    expect(done("npx", "waterlore", "check", "mine.lore", "--severity", "note")).toMatchObject({ exit: 0, err: "" });
    expect(done("npx", "waterlore", "table", "mine.lore").out).toContain("Jig color");
    expect(done("npx", "waterlore", "check", "node_modules/waterlore/rules", "--format", "sarif")).toMatchObject({ exit: 0, err: "" });
    expect(readdirSync(join(folder, "node_modules/.cache/waterlore")).length).toBeGreaterThan(0);
    writeFileSync(join(folder, "waterlore.json"), '{ "lowest": "nothing" }');
    expect(done("npx", "waterlore", "check", "mine.lore")).toMatchObject({
      exit: 2,
      err: 'waterlore.json:1:13: lowest cannot be "nothing". It can be error, warning or note.\n',
    });
    rmSync(join(folder, "waterlore.json"));
  });

  test(
    "the program of the README compiles, in strict TypeScript as an ES module, and prints what stands under it",
    { timeout: 60_000 },
    () => {
      const [, program, printed] = /\n## From a program\n[\s\S]*?```ts\n([\s\S]*?)```[\s\S]*?```text\n([\s\S]*?)```/.exec(readme)!;
      mkdirSync(join(folder, "program"), { recursive: true });
      writeFileSync(join(folder, "program/main.ts"), program!);
      writeFileSync(
        join(folder, "program/prettier.ts"),
        'import plugin, { parsers } from "waterlore/prettier";\nexport const names: string[] = [...plugin.languages!.map(({ name }) => name), ...Object.keys(parsers)];\n',
      );
      writeFileSync(
        join(folder, "program/tsconfig.json"),
        JSON.stringify({
          compilerOptions: {
            module: "NodeNext",
            target: "ES2022",
            strict: true,
            skipLibCheck: false,
            types: ["node"],
            typeRoots: [join(root, "node_modules/@types")],
          },
          include: ["."],
        }),
      );
      const compiled = done(process.execPath, join(root, "node_modules/typescript/bin/tsc"), "-p", "program");
      expect(compiled.out + compiled.err).toBe("");
      rmSync(join(folder, "mine.lore"), { force: true });
      done("npx", "waterlore", "new", "mine.lore");
      expect(done(process.execPath, "program/main.js")).toEqual({ exit: 0, out: printed, err: "" });
    },
  );
});
