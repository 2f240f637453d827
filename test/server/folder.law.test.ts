/**
 * A folder after whatever happened to it shows what a fresh check of its books finds: files written, deleted and moved, books opened, typed
 * in, saved and closed, in any order and without waiting. Books that are open count as they stand in the editor.
 */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import {
  DidChangeWatchedFilesNotification,
  DidSaveTextDocumentNotification,
  DocumentDiagnosticRequest,
  FileChangeType,
  WorkspaceDiagnosticRequest,
  type Diagnostic,
} from "vscode-languageserver/node";
import { analyse } from "../../src/analysis/analyse.js";
import type { Finding } from "../../src/diagnostics.js";
import { resolve } from "../../src/model/resolve.js";
import { inOneText } from "../../src/same-finding.js";
import { parse } from "../../src/syntax/parse.js";
import { lineMap } from "../../src/text.js";
import { connect, FOLDER, memoryHost, type Client } from "./client.js";

const runs = Number(process.env["LAW_RUNS"] ?? 12);

const names = ["base.lore", "rules/pier.lore", "rules/ramp.lore", "cove.lore"] as const;
/** Sound and broken ones, alone and on top of others. */
const base = `book "Base"\ncondition sky: in order bright, dark\npick bait: worm, jig\nfall back on bait jig\n`;
const onBase = (path: string): string =>
  `book "On base"\nbuilds on "${path}"\npattern "Sun wants worm"\n  go with bait worm\n  when sky is bright\n`;
const texts = [
  base,
  base.replace("sky", "light"),
  base.replace("fall back on bait jig\n", ""),
  onBase("base.lore"),
  onBase("../base.lore"),
  onBase("../rules/pier.lore"),
  onBase("ramp.lore").replace("bright", "brigt"),
  `${onBase("../base.lore")}pattern "Bright wants jig"\n  go with bait jig\n  when sky is bright\n`,
  "",
];

const step = fc.oneof(
  fc.record({ do: fc.constant("write" as const), name: fc.constantFrom(...names), text: fc.constantFrom(...texts) }),
  fc.record({ do: fc.constant("type" as const), name: fc.constantFrom(...names), text: fc.constantFrom(...texts) }),
  fc.record({
    do: fc.constantFrom("delete" as const, "open" as const, "close" as const, "save" as const),
    name: fc.constantFrom(...names),
  }),
  fc.record({ do: fc.constant("move" as const), name: fc.constantFrom(...names), to: fc.constantFrom(...names) }),
  fc.record({ do: fc.constant("wait" as const), time: fc.constantFrom(20, 300, 1300) }),
);

const uriOf = (name: string): string => `${FOLDER}/${name}`;

/** All that the books find, each where it lies, said once. */
function fresh(all: ReadonlyMap<string, string>): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, Finding>();
  for (const [path, text] of all) {
    const read = (wanted: string) => (all.has(wanted) ? { text: all.get(wanted)! } : { problem: "there is no such file" });
    const { model, findings } = resolve(parse(text, path), read, { on: "2027-04-15" });
    for (const finding of [...findings, ...analyse(model).findings]) found.set(inOneText(finding), finding);
  }
  const said = new Map<string, string[]>();
  for (const { path, range, code } of found.values()) {
    const { line, column } = lineMap(all.get(path)!).position(range.start);
    said.set(uriOf(path), [...(said.get(uriOf(path)) ?? []), `${line - 1}:${column - 1} ${code}`].sort());
  }
  return said;
}

const saidBy = (diagnostics: readonly Diagnostic[]): readonly string[] =>
  diagnostics.map(({ range: { start }, code }) => `${start.line}:${start.character} ${String(code)}`).sort();

const everythingKnown = async ({ connection }: Client): Promise<ReadonlyMap<string, readonly string[]>> => {
  const { items } = await connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  return new Map(items.flatMap((one) => (one.kind === "full" && one.items.length > 0 ? [[one.uri, saidBy(one.items)] as const] : [])));
};

test("shows what a fresh check finds", { timeout: 600_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 3, maxLength: 14 }), async (steps) => {
      const files = new Map<string, string>([
        [uriOf("base.lore"), base],
        [uriOf("rules/pier.lore"), onBase("../base.lore")],
      ]);
      const open = new Map<string, string>();
      let version = 1;
      const client = await connect(memoryHost(files));
      const told = (uri: string, type: FileChangeType): void =>
        void client.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [{ uri, type }] });
      for (const one of steps) {
        if (one.do === "wait") {
          await new Promise((done) => setTimeout(done, one.time));
          continue;
        }
        const uri = uriOf(one.name);
        if (one.do === "write" || (one.do === "save" && open.has(uri))) {
          const type = files.has(uri) ? FileChangeType.Changed : FileChangeType.Created;
          files.set(uri, one.do === "write" ? one.text : open.get(uri)!);
          told(uri, type);
          if (one.do === "save") void client.connection.sendNotification(DidSaveTextDocumentNotification.type, { textDocument: { uri } });
        } else if (one.do === "delete" && files.delete(uri)) told(uri, FileChangeType.Deleted);
        else if (one.do === "open" && !open.has(uri)) {
          open.set(uri, files.get(uri) ?? "");
          client.open(uri, open.get(uri)!);
        } else if (one.do === "close" && open.delete(uri)) client.close(uri);
        else if (one.do === "type" && open.has(uri)) {
          open.set(uri, one.text);
          client.change(uri, ++version, { text: one.text });
        } else if (one.do === "move" && files.has(uri) && !files.has(uriOf(one.to)) && !open.has(uri)) {
          files.set(uriOf(one.to), files.get(uri)!);
          files.delete(uri);
          told(uri, FileChangeType.Deleted);
          told(uriOf(one.to), FileChangeType.Created);
        }
      }
      const known = await everythingKnown(client);
      const pathOf = (uri: string): string => uri.slice(FOLDER.length + 1);
      const expected = fresh(new Map([...files, ...open].map(([uri, text]) => [pathOf(uri), text])));
      expect(known).toEqual(expected);
      const shown = new Map(names.map((name) => [uriOf(name), saidBy(client.latest(uriOf(name))?.diagnostics ?? [])]));
      expect(new Map([...shown].filter(([, said]) => said.length > 0))).toEqual(expected);
      expect(client.log).toEqual([]);
      await client.end();
    }),
    { numRuns: runs },
  );
});

test("a client that only asks is told nothing, and has the same from its answers, each once it changes", async () => {
  const files = new Map<string, string>([
    [uriOf("base.lore"), base],
    [uriOf("rules/pier.lore"), onBase("../base.lore")],
  ]);
  const client = await connect(memoryHost(files), { textDocument: { diagnostic: {} } });
  expect(client.server.capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true, interFileDependencies: true });
  const all = await client.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  expect(all.items.map(({ uri }) => uri).sort()).toEqual([...files.keys()].sort());
  const previousResultIds = all.items.map(({ uri, resultId }) => ({ uri, value: resultId! }));
  const next = client.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds });
  client.open(uriOf("base.lore"), base);
  client.change(uriOf("base.lore"), 2, { text: base.replace("sky", "light") });
  expect((await next).items.map(({ uri }) => uri)).toContain(uriOf("rules/pier.lore"));
  const own = await client.connection.sendRequest(DocumentDiagnosticRequest.type, { textDocument: { uri: uriOf("rules/pier.lore") } });
  expect(own).toMatchObject({ kind: "full", items: [{ code: "name" }] });
  expect(client.published).toEqual([]);
  await client.end();
});
