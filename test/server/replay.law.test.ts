/** What an editor shows while a sound book of fifteen patterns is typed. Goes by counts: the clock has no say. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { connect, FOLDER, memoryHost } from "./client.js";
import { replay } from "./replay.js";

const uri = `${FOLDER}/spoons.lore`;
const book = readFileSync(join(import.meta.dirname, "../vscode/spoons.lore"), "utf8");

test("what is shown changes seldom, and nothing is red for want of what is about to be typed, in a pause neither", async () => {
  const client = await connect(memoryHost(new Map()), undefined, undefined, { initializationOptions: { writing: true } });
  client.open(uri, "");
  const { letters, red, elsewhere, pauses, redInPauses, changes } = await replay(client, uri, book, 101);
  expect(changes).toBeLessThanOrEqual(60);
  expect(changes).toBeGreaterThan(10);
  expect(red).toBeLessThan(letters / 10);
  expect(elsewhere).toBe(0);
  expect(pauses).toBeGreaterThan(20);
  expect(redInPauses).toBe(0);
  await client.end();
});
