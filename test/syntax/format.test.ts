/** Layout by example: each `NAME.lore` in `format/` is laid out as `NAME.out.lore`. The laws of formatting are in `syntax.law.test.ts`. */
import { readdirSync, readFileSync } from "node:fs";
import { format as prettierFormat } from "prettier";
import { describe, expect, test } from "vitest";
import * as plugin from "../../src/faces/prettier-plugin.js";
import { parse } from "../../src/syntax/parse.js";
import { format } from "../../src/syntax/print.js";

const folder = new URL("./format/", import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), "utf8");
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".lore") && !name.endsWith(".out.lore"))
  .map((name) => name.replace(".lore", ""));
const viaPrettier = (text: string, options = {}): Promise<string> =>
  prettierFormat(text, { filepath: "x.lore", plugins: [plugin], ...options });

describe("books are laid out", () => {
  test.each(names)("%s", async (name) => {
    const once = format(read(`${name}.lore`));
    await expect(once).toMatchFileSnapshot(new URL(`${name}.out.lore`, folder).pathname);
    expect(format(once)).toBe(once);
  });

  test("the example of the language stands as it is, but for two lines that are too long", () => {
    const book = readFileSync(new URL("../books/hollin.lore", import.meta.url), "utf8");
    expect(
      format(book)
        .replace(/,\n {4}autumn/, ", autumn")
        .replace(/\n  see "Nat/, ' see "Nat'),
    ).toBe(book);
  });

  test("an empty book stays empty", () => {
    expect([format(""), format("\n \n"), format("\uFEFF")]).toEqual(["", "", "\uFEFF"]);
  });

  test("no line is longer than 100 columns where a blank could be broken", () => {
    const lines = names.flatMap((name) => format(read(`${name}.lore`)).split("\n"));
    expect(lines.filter((line) => line.length > 100 && !/"[^"]{40,}"|--/.test(line))).toEqual([]);
  });
});

describe("the Prettier plugin", () => {
  test.each(names)("lays out %s as the command does", async (name) => {
    expect(await viaPrettier(read(`${name}.lore`))).toBe(format(read(`${name}.lore`)));
  });

  test("follows Prettier's own options", async () => {
    const text = 'condition cover: any of grass, pads, reeds, stumps\n  ask "What?"\n';
    expect(await viaPrettier(text, { printWidth: 40, tabWidth: 4 })).toBe(
      'condition cover: any of grass, pads,\n        reeds, stumps\n    ask "What?"\n',
    );
    expect(await viaPrettier(text.replaceAll("\n", "\r\n"), { endOfLine: "crlf" })).toBe(text.replaceAll("\n", "\r\n"));
    expect(await viaPrettier("\uFEFFpick a: b\r\n")).toBe("\uFEFFpick a: b\n");
  });

  test("a book that can not be read is written back, not refused", async () => {
    const text = 'pattern "x\n  when )))\n';
    expect(parse(text, "x").findings.length).toBeGreaterThan(0);
    expect(await viaPrettier(text)).toBe(text);
  });
});
