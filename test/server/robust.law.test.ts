/**
 * Laws of the server under everything that can be done to it: random edits, splices, halves deleted, books opened, closed and changed on
 * the disk, requests in between.
 *
 *     once it is quiet, what is published is what a fresh check of the same texts finds
 *     whatever is published of a version of a book alone is found in that version, or was in one before
 *     nothing is ever logged as a fault
 */
import fc from "fast-check";
import { setTimeout } from "node:timers/promises";
import { expect, test } from "vitest";
import { DidChangeWatchedFilesNotification, FileChangeType, type Diagnostic, type Range } from "vscode-languageserver/node";
import type { Finding } from "../../src/diagnostics.js";
import { messageOf } from "../../src/faces/server/convert.js";
import { CURSOR, EXPLAIN, TABLE, WRITING, type CursorParams, type WritingParams } from "../../src/faces/server/requests.js";
import { openView } from "../../src/service/view.js";
import { lineMap } from "../../src/text.js";
import { dice } from "../bench/books.js";
import { check } from "../check.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { connect, FOLDER, memoryHost, type Client } from "./client.js";

const STEPS = 2000;
const day = "2027-04-15";
const sound: Readonly<Record<string, string>> = {
  "base.lore": `book "Base"
condition sky: in order bright, broken, dark
  rising is darker, falling is brighter
condition cover: any of grass, docks
condition wind: 0 to 40 mph, to the nearest 1 mph
pick bait: worm, jig, frog
situation rough: wind is above 20 mph
pattern "Sun wants worm" -- as ever
  go with bait worm
  when sky is bright or broken
pattern "Grass wants frog"
  go with bait frog
  when cover has grass and not rough
fall back on bait jig
promise "Something always": bait must have an answer
`,
  "lake.lore": `book "Lake"
builds on "base.lore"
pick weight: in order 1/8 oz, 1/4 oz, 1/2 oz
pattern "Wind asks for weight"
  go with weight 1/2 oz
  when rough
  beats "Deep is heavy"
pattern "Deep is heavy"
  go with weight 1/4 oz, then 1/8 oz
  when bait is jig
fall back on weight 1/8 oz because "usual"
`,
  "pier.lore": `book "Pier"
builds on "lake.lore"
leave out "Grass wants frog"
pattern "Docks want jigs"
  lean to bait jig by 2
  when cover has docks
caution "Wind" when wind is above 25 mph say "Stay ashore."
`,
};
const names = Object.keys(sound);
const uriOf = (name: string): string => `${FOLDER}/${name}`;

/** What a client has to send to get from one text to another. */
function changeBetween(before: string, now: string): { readonly range: Range; readonly text: string } {
  const least = Math.min(before.length, now.length);
  let start = 0;
  while (start < least && before[start] === now[start]) start++;
  let end = 0;
  while (end < least - start && before[before.length - 1 - end] === now[now.length - 1 - end]) end++;
  // The protocol cannot point between the two halves of a line ending.
  while (start > 0 && before[start - 1] === "\r") start--;
  while (end > 0 && before[before.length - end] === "\n") end--;
  const at = (offset: number) => {
    const { line, column } = lineMap(before).position(offset);
    return { line: line - 1, character: column - 1 };
  };
  return { range: { start: at(start), end: at(before.length - end) }, text: now.slice(start, now.length - end) };
}

function told({ range: { start, end }, code, message, data }: Diagnostic): string {
  const { pick, patterns, where } = data as Pick<Finding, "pick" | "patterns" | "where">;
  return JSON.stringify([start.line, start.character, end.line, end.character, code, pick, patterns, where ?? message]);
}

/** All that is to be told of each file: what the open books find, each checked afresh. */
function expected(texts: Readonly<Record<string, string>>, open: Iterable<string>): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map<string, Set<string>>(names.map((name) => [name, new Set()]));
  for (const root of open) {
    for (const finding of check(texts, { root, on: day }).findings) {
      const lines = lineMap(texts[finding.path]!);
      const [start, end] = [lines.position(finding.range.start), lines.position(finding.range.end)];
      found
        .get(finding.path)!
        .add(
          JSON.stringify([
            start.line - 1,
            start.column - 1,
            end.line - 1,
            end.column - 1,
            finding.code,
            finding.pick,
            finding.patterns,
            finding.where ?? messageOf(finding),
          ]),
        );
    }
  }
  return found;
}

function publishedOf(client: Client, name: string): readonly string[] {
  return (client.latest(uriOf(name))?.diagnostics ?? []).map(told).sort();
}

const requests = [
  "completion",
  "hover",
  "definition",
  "references",
  "documentHighlight",
  "documentSymbol",
  "foldingRange",
  "documentLink",
  "semanticTokens/full",
  "codeLens",
  "formatting",
  "prepareRename",
  "rename",
  "rangeFormatting",
  "inlayHint",
  "selectionRange",
  "codeAction",
] as const;

test("thousands of steps end where a fresh check begins", async () => {
  const roll = dice(Number(process.env["LAW_SEED"] ?? 20270415));
  const files = new Map(names.map((name) => [uriOf(name), sound[name]!]));
  const buffers = new Map<string, { version: number; text: string }>();
  const host = memoryHost(files);
  // What is not open has a law of its own (`folder.law.test.ts`).
  const client = await connect({ ...host, files: { ...host.files, books: () => Promise.resolve([]) } });
  const textOf = (name: string): string => buffers.get(name)?.text ?? files.get(uriOf(name))!;
  const edit = (name: string, text: string): void => {
    const buffer = buffers.get(name)!;
    const change = changeBetween(buffer.text, text);
    buffers.set(name, { version: buffer.version + 1, text });
    client.change(uriOf(name), buffer.version + 1, roll(8) === 0 ? { text } : change);
  };
  const spoilt = (text: string): string => {
    if (text.length > 4000 || roll(12) === 0) return sound[names[roll(names.length)]!]!;
    if (roll(20) === 0) return text.slice(0, text.length >> 1);
    if (roll(6) === 0) {
      const at = roll(text.length + 1);
      return text.slice(0, at) + ["a", " ", "\n", '"', "pattern ", "\r\n", "½", "😀"][roll(8)]! + text.slice(at + roll(3));
    }
    return damaged(text, fc.sample(wordDamages(2), { numRuns: 1, seed: roll(1 << 30) })[0]!, sound["base.lore"]);
  };
  const settled = async (): Promise<void> => {
    await client.told(...[...buffers.keys()].map(uriOf));
    const texts = Object.fromEntries(names.map((name) => [name, textOf(name)]));
    const all = expected(texts, buffers.keys());
    for (const name of names) expect(publishedOf(client, name), name).toEqual([...all.get(name)!].sort());
    for (const [name, { version }] of buffers) expect(client.latest(uriOf(name))?.version).toBe(version);
  };
  let calm = true;
  for (let step = 0; step < STEPS; step++) {
    const name = names[roll(names.length)]!;
    const what = roll(40);
    if (!buffers.has(name) && what < 30) {
      buffers.set(name, { version: 1, text: textOf(name) });
      client.open(uriOf(name), textOf(name));
    } else if (buffers.has(name) && what === 0) {
      buffers.delete(name);
      client.close(uriOf(name));
    } else if (what === 1) {
      files.set(uriOf(name), spoilt(files.get(uriOf(name))!));
      void client.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
        changes: [{ uri: uriOf(name), type: FileChangeType.Changed }],
      });
    } else if (buffers.has(name) && what < 30) edit(name, spoilt(textOf(name)));
    else {
      const lines = textOf(name).split("\n");
      const position = { line: roll(lines.length + 1), character: roll(40) };
      const request = roll(10) === 0 ? [TABLE, EXPLAIN][roll(2)]! : `textDocument/${requests[roll(requests.length)]!}`;
      void client.connection
        .sendRequest(request, {
          textDocument: { uri: uriOf(name) },
          position,
          positions: [position],
          range: { start: position, end: { ...position, character: roll(60) } },
          newName: "other-name",
          given: { sky: "bright", wind: "12 mph" },
          context: { includeDeclaration: true, diagnostics: [] },
          options: { tabSize: 2, insertSpaces: true },
        })
        .catch(() => undefined);
    }
    if (roll(15) === 0) await setTimeout(roll(200));
    // Now and then after one step, now and then after a hundred.
    if (roll(calm ? 3 : 60) === 0) {
      await settled();
      calm = !calm;
    }
  }
  await settled();
  expect(client.log).toEqual([]);
  await client.end();
}, 300_000);

test("where errors wait while somebody writes, all is told once that is left, and until then the editor knows that somebody writes", async () => {
  const roll = dice(11);
  const files = new Map(names.map((name) => [uriOf(name), sound[name]!]));
  const writing = new Set<string>();
  const client = await connect(
    memoryHost(files),
    undefined,
    (connection) =>
      connection.onNotification(WRITING, ({ uri, writing: now }: WritingParams) => void (now ? writing.add(uri) : writing.delete(uri))),
    { initializationOptions: { writing: true } },
  );
  const texts: Record<string, string> = { ...sound };
  for (const name of names) client.open(uriOf(name), texts[name]!);
  await client.told(...names.map(uriOf));
  const differs = (): boolean => {
    const all = expected(texts, names);
    return names.some((name) => JSON.stringify(publishedOf(client, name)) !== JSON.stringify([...all.get(name)!].sort()));
  };
  let [version, waited] = [1, 0];
  for (let round = 0; round < 10; round++) {
    for (let edits = roll(6); edits >= 0; edits--) {
      const name = names[roll(names.length)]!;
      const text = texts[name]!;
      const now = roll(5) === 0 ? sound[name]! : damaged(text, fc.sample(wordDamages(1), { numRuns: 1, seed: roll(1 << 30) })[0]!);
      client.change(uriOf(name), ++version, changeBetween(text, now));
      texts[name] = now;
      await setTimeout(roll(60));
    }
    await client.told(...names.map(uriOf));
    if (writing.size > 0) waited++;
    else expect(differs()).toBe(false);
    // Whoever writes on, or elsewhere, has left the statement or not; here each book is left.
    if (roll(2) === 0) await setTimeout(1200);
    for (const uri of writing) void client.connection.sendNotification(CURSOR, { uri } satisfies CursorParams);
    await client.until(() => writing.size === 0, "what was waited for");
    expect(differs()).toBe(false);
  }
  expect(waited).toBeGreaterThan(3);
  expect(client.log).toEqual([]);
  await client.end();
}, 300_000);

test("what is published of a book alone is so in that version of it, or was in an earlier one", async () => {
  const roll = dice(7);
  const client = await connect(memoryHost(new Map()));
  const texts = new Map<number, string>();
  let text = sound["base.lore"]!;
  client.open(uriOf("base.lore"), text);
  texts.set(1, text);
  for (let version = 2; version < 120; version++) {
    const now =
      text.length > 3000 || roll(10) === 0
        ? sound["base.lore"]!
        : damaged(text, fc.sample(wordDamages(1), { numRuns: 1, seed: roll(1 << 30) })[0]!);
    client.change(uriOf("base.lore"), version, changeBetween(text, now));
    texts.set(version, (text = now));
    await setTimeout([0, 0, 5, 30, 250][roll(5)]);
  }
  await client.quiet();
  const versions = client.published.map(({ version }) => version!);
  expect(versions).toEqual([...versions].sort((a, b) => a - b));
  expect(new Set(versions).size).toBeGreaterThan(15);
  const was = new Set<string>();
  const found = new Set<string>();
  for (const { version, diagnostics } of client.published) {
    const now = { ...sound, "base.lore": texts.get(version!)! };
    const so = expected(now, ["base.lore"]).get("base.lore")!;
    const reading = new Set(openView("base.lore", now["base.lore"], () => ({ problem: "is not here" })).findings.map(messageOf));
    for (const one of diagnostics) {
      const isSo = so.has(told(one));
      if (!isSo) expect(was.has(one.message as string), `version ${version}: ${told(one)}`).toBe(true);
      if (isSo && !reading.has(one.message as string)) found.add(one.message as string);
    }
    for (const message of found) was.add(message);
  }
  expect(client.log).toEqual([]);
  await client.end();
}, 300_000);

test("a request that makes no sense is logged and has an empty answer, and the server goes on", async () => {
  const client = await connect(memoryHost(new Map()));
  const uri = uriOf("base.lore");
  client.change(uri, 2, { text: "never opened" });
  client.close(uri);
  client.open(uri, sound["base.lore"]!);
  expect(await client.connection.sendRequest("textDocument/hover", { textDocument: { uri } })).toBeNull();
  expect(await client.connection.sendRequest("textDocument/completion", {})).toEqual([]);
  await client.connection.sendNotification("textDocument/didChange", { textDocument: { uri }, contentChanges: [{}] });
  expect(await client.connection.sendRequest("textDocument/documentSymbol", { textDocument: { uri } })).not.toBeNull();
  expect(client.log.length).toBeGreaterThanOrEqual(2);
  expect(client.log.every((line) => line.startsWith("Waterlore could not do this"))).toBe(true);
  await client.end();
});
