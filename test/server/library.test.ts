/** Texts by their paths: what an editor calls a book, and what the book is called in findings. */
import fc from "fast-check";
import { pathToFileURL } from "node:url";
import { describe, expect, test } from "vitest";
import { TextDocument } from "vscode-languageserver-textdocument";
import { openLibrary, type Library } from "../../src/faces/server/library.js";
import { FOLDER, memoryHost } from "./client.js";

function library(folder?: string): Library {
  const opened = openLibrary(memoryHost(new Map()).files);
  opened.settle(folder);
  return opened;
}

describe("a path stands for a URI", () => {
  test.each([
    [`${FOLDER}/rules/ramp.lore`, "rules/ramp.lore"],
    [`${FOLDER}/rules/Mu%C3%9Fe%20%231.lore`, "rules/Muße #1.lore"],
    [`${FOLDER}/rules/../pier.lore`, "pier.lore"],
    ["file:///other/pier.lore", "/other/pier.lore"],
    ["file://pc/share/pier.lore", "/file:pc/share/pier.lore"],
    ["untitled:Untitled-1", "untitled:Untitled-1"],
    ["vscode-vfs://host/shop/pier.lore", "/vscode-vfs:host/shop/pier.lore"],
  ])("%s is %s, and back", (uri, path) => {
    const { pathOf, uriOf } = library(FOLDER);
    expect(pathOf(uri)).toBe(path);
    expect(pathOf(uriOf(path))).toBe(path);
    expect(decodeURIComponent(uriOf(path))).toBe(decodeURIComponent(uri.replace("rules/../", "")));
  });

  test("as Node writes URIs of files, whatever the name (WHATWG URL)", () => {
    const name = fc.string({ unit: "grapheme", minLength: 1 }).filter((text) => !/[/\\\0]|^\.+$|\p{Surrogate}/u.test(text));
    fc.assert(
      fc.property(name, (file) => {
        const uri = pathToFileURL(`/shop/${file}`).href;
        const { pathOf, uriOf } = library(FOLDER);
        expect(pathOf(uri)).toBe(file);
        expect(pathToFileURL(decodeURIComponent(new URL(uriOf(file)).pathname)).href).toBe(uri);
      }),
    );
  });

  test("and what is no URI stands for itself, as the editor calls it", () => {
    for (const uri of ["file:////pc/share/pier.lore", "pier.lore", "", "100%.lore", "::"]) {
      const opened = library(FOLDER);
      const path = opened.open(TextDocument.create(uri, "lore", 1, "book"));
      expect(opened.uriOf(path)).toBe(uri);
      expect(opened.textAt(path)).toBe("book");
      expect(opened.close(uri)).toBe(path);
    }
  });
});
