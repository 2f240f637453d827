/** What an editor is told while somebody writes in it, for one that says when that is so: what is wrong in the statement at hand waits. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { CURSOR, WRITING, type CursorParams, type WritingParams } from "../../src/faces/server/requests.js";
import { connect, FOLDER, memoryHost, type Client } from "./client.js";

const uri = `${FOLDER}/pier.lore`;
const book = `book "Pier"
condition sky: bright, dark
pick bait: worm, jig
fall back on bait jig
pattern "Sun"
  go with bait worm
  when sky is `;

let client: Client;
let writing: boolean;
beforeEach(async () => {
  writing = false;
  client = await connect(
    memoryHost(new Map()),
    undefined,
    (connection) => connection.onNotification(WRITING, (params: WritingParams) => void (writing = params.writing)),
    { initializationOptions: { writing: true } },
  );
  client.open(uri, `${book}bright\n`);
  await client.told(uri);
});
afterEach(() => client.end());

const codes = (): readonly unknown[] => client.latest(uri)!.diagnostics.map(({ code }) => code);
let version = 1;
/** Leaves the last word as it is given, and pauses. */
const pausedAt = async (word: string): Promise<void> => {
  const [start, end] = [
    { line: 6, character: 14 },
    { line: 7, character: 0 },
  ];
  client.change(uri, ++version, { range: { start, end }, text: `${word}\n` });
  await client.told(uri);
  expect(codes()).toEqual([]);
  expect(writing).toBe(true);
  await client.quiet(1300);
};
const cursor = (params: CursorParams): void => void client.connection.sendNotification(CURSOR, params);

test("half a word waits through a pause, and until the cursor has left its statement", async () => {
  await pausedAt("bri");
  expect(codes()).toEqual([]);
  cursor({ uri, position: { line: 5, character: 3 } });
  await client.quiet();
  expect(codes()).toEqual([]);
  expect(writing).toBe(true);
  cursor({ uri, position: { line: 3, character: 3 } });
  await client.until(() => codes().includes("name"));
  expect(writing).toBe(false);
});

test("or until it is somewhere else, or the book is saved", async () => {
  await pausedAt("bri");
  cursor({ uri });
  await client.until(() => codes().includes("name"));
  await client.quiet(0);
  client.change(uri, ++version, { text: `${book}bright\n` });
  await client.until(() => codes().length === 0);
  await client.until(() => !writing);
  await pausedAt("dar");
  void client.connection.sendNotification("textDocument/didSave", { textDocument: { uri } });
  await client.until(() => codes().includes("name"));
});

test("what is no beginning of anything is told in a pause", async () => {
  await pausedAt("brx");
  expect(codes()).toEqual(["name"]);
  expect(writing).toBe(false);
});
