/** A book written by hand in the real editor, at a person's speed and with nothing set but what comes with the extension. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openWindow, type Window } from "./window.js";

const book = readFileSync(join(import.meta.dirname, "spoons.lore"), "utf8");
let w: Window;

beforeAll(async () => {
  w = await openWindow();
});
afterAll(() => w?.close());

test(
  "what is typed is what stands there, byte for byte but for the blanks that the editor sets",
  { timeout: 600_000, retry: 0 },
  async () => {
    w.put("spoons.lore", "");
    await w.openFile("spoons.lore");
    await w.write(book);
    await w.shot("written");
    await w.command("File: Save Without Formatting");
    await expect.poll(() => w.read("spoons.lore").length).toBeGreaterThan(0);
    const bare = (text: string): readonly string[] => text.split("\n").map((line) => line.trimStart());
    expect(bare(w.read("spoons.lore"))).toEqual(bare(book));
    await w.command("Format Document");
    await w.command("File: Save Without Formatting");
    await expect.poll(() => w.read("spoons.lore")).toBe(book);
  },
);
