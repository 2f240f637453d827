/** Code of other packages is given on with its license: whatever a bundle holds, the words of its license stand with it. */
import { spawnSync } from "node:child_process";
import { build } from "esbuild";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root } from "../root.js";

const read = (path: string): string => readFileSync(join(root, path), "utf8");

/** In a bundle that is not minified a comment says which file each piece of code is from. */
function packagesIn(code: string): readonly string[] {
  return [...new Set([...code.matchAll(/^ *\/\/ (node_modules\/(?:@[^/]+\/)?[^/]+)\//gm)].map(([, home]) => home!))];
}

/** Words alone, since a comment may be set out in another way. */
const wordsOf = (text: string): string => text.replace(/[\s*]+/g, " ");

function expectLicenses(given: string, homes: readonly string[]): void {
  for (const home of homes) {
    const file = readdirSync(join(root, home)).find((name) => /^licen[cs]e/i.test(name));
    // One package has its license in its code alone.
    const text = file === undefined ? /Copyright[^]*?SOFTWARE\.\n/.exec(read(`${home}/esm/astronomy.js`))![0] : read(`${home}/${file}`);
    expect(wordsOf(given), home).toContain(wordsOf(text).trim());
    const { name, version } = JSON.parse(read(`${home}/package.json`)) as { readonly name: string; readonly version: string };
    expect(given).toContain(`${name} ${version} (`);
  }
}

test("the command line", () => {
  const code = readdirSync(join(root, "dist/cli"))
    .filter((name) => name.endsWith(".js"))
    .map((name) => read(`dist/cli/${name}`))
    .join("\n");
  const homes = packagesIn(code);
  expect(homes).toEqual(expect.arrayContaining(["node_modules/chevrotain", "node_modules/fraction.js"]));
  expectLicenses(read("dist/cli/THIRD-PARTY-LICENSES.txt"), homes);
});

test.each([
  ["page", "src/publish/page/main.ts", ["astronomy-engine", "fraction.js", "qrcode"]],
  ["lookup", "src/publish/lookup/lookup.ts", []],
])("%s.js, which stands in pages that go about alone", async (name, source, some) => {
  const { outputFiles } = await build({ entryPoints: [source], absWorkingDir: root, bundle: true, write: false, format: "esm" });
  const homes = packagesIn(outputFiles[0]!.text);
  expect(homes).toEqual(expect.arrayContaining(some.map((one) => `node_modules/${one}`)));
  const script = read(`dist/${name}/${name}.js`);
  expectLicenses(script, homes);
  expect(script.includes("/*!")).toBe(homes.length > 0);
  // It is put into a page as it is.
  expect(script).not.toMatch(/<\/script|<!--/i);
});

test("the extension", () => {
  const packed = spawnSync(process.execPath, ["node_modules/tsx/dist/cli.mjs", "src/faces/vscode/vsix-main.ts"], {
    cwd: root,
    encoding: "utf8",
  });
  expect(packed.status, packed.stderr).toBe(0);
  const inside = ["chevrotain", "fraction.js", "vscode-languageclient", "vscode-languageserver"];
  expectLicenses(
    read("dist/extension/THIRD-PARTY-LICENSES.txt"),
    inside.map((name) => `node_modules/${name}`),
  );
});
