/**
 * The licenses of the packages whose code went into a bundle, since it is given on with them:
 *
 *     what esbuild put in ──▶ fraction.js, qrcode, … ──▶ one text: name, version and license of each, and its words
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Metafile } from "esbuild";

/** Empty where no package went in. Throws where one has no license, neither as a file nor at the top of its code. */
export function licenses(root: string, ...bundles: readonly Metafile[]): string {
  const put = bundles
    .flatMap(({ outputs }) => Object.values(outputs).flatMap(({ inputs }) => Object.entries(inputs)))
    .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
    .map(([path]) => path);
  const homes = new Set(put.flatMap((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0] ?? []));
  return [...homes]
    .sort()
    .map((home) => {
      const { name, version, license } = JSON.parse(readFileSync(join(root, home, "package.json"), "utf8")) as {
        readonly name: string;
        readonly version: string;
        readonly license: string;
      };
      const words =
        textOf(join(root, home)) ?? put.filter((path) => path.startsWith(`${home}/`)).map((path) => commentOf(join(root, path)))[0];
      if (words === undefined) throw new Error(`${name} has no license that could be given on with its code.`);
      return `${name} ${version} (${license})\n\n${words.trim()}\n`;
    })
    .join(`\n${"-".repeat(80)}\n\n`);
}

function textOf(home: string): string | undefined {
  const file = readdirSync(home).find((name) => /^licen[cs]e/i.test(name));
  return file === undefined ? undefined : readFileSync(join(home, file), "utf8");
}

/** The comment at the top of a file that asks to be kept, without its frame. */
function commentOf(path: string): string | undefined {
  const comment = /^\s*\/\*[*!]?((?:(?!\*\/)[^])*@(?:preserve|license)[^]*?)\*\//.exec(readFileSync(path, "utf8"))?.[1];
  return comment?.replace(/^ *\*? ?(?:@(?:preserve|license)\b)?/gm, "").replace(/^ {1,4}/gm, "");
}
