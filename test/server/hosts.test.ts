/** The two places the server runs in: a process with files, and a worker that asks the client for them. */
import { build } from "esbuild";
import { mkdirSync, mkdtempSync, readdirSync, realpathSync, rmSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { WorkspaceDiagnosticRequest, WorkspaceSymbolRequest } from "vscode-languageserver/node";
import { nodeHost } from "../../src/faces/server/node-host.js";
import { FILES, READ, type FileAnswer, type FileParams } from "../../src/faces/server/requests.js";
import { workerHost } from "../../src/faces/server/worker-host.js";
import { connect, everything, suggested, type Client } from "./client.js";

const base = `book "Base"\ncondition sky: in order bright, dark\npick bait: worm, jig\nfall back on bait jig\n`;
const own = `book "Pier"\nbuilds on "base.lore"\npattern "Sun wants worm"\n  go with bait worm\n  when sky is bright\n`;

let client: Client;
afterEach(() => client.end());
const codes = (uri: string): unknown[] => (client.latest(uri)?.diagnostics ?? []).map(({ code }) => code);

describe("in Node", () => {
  let folder: string;
  const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;
  beforeEach(async () => {
    folder = realpathSync(mkdtempSync(join(tmpdir(), "waterlore server ")));
    writeFileSync(join(folder, "base.lore"), base);
    client = await connect(nodeHost());
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  test("base books are read from files, and again once one is saved, without a watcher", async () => {
    client.open(uriOf("pier.lore"), own);
    await client.told(uriOf("pier.lore"));
    expect(codes(uriOf("pier.lore"))).toEqual([]);
    writeFileSync(join(folder, "base.lore"), base.replace("sky", "light"));
    void client.connection.sendNotification("textDocument/didSave", { textDocument: { uri: uriOf("pier.lore") } });
    await client.until(() => codes(uriOf("pier.lore")).includes("name"));
  });

  test("a file that two paths lead to is one book, and its open text counts", async () => {
    mkdirSync(join(folder, "links"));
    symlinkSync(join(folder, "base.lore"), join(folder, "links", "base.lore"));
    client.open(uriOf("base.lore"), base.replace("sky", "light"));
    client.open(uriOf("links/pier.lore"), own);
    await client.told(uriOf("links/pier.lore"));
    expect(codes(uriOf("links/pier.lore"))).toContain("name");
  });

  test("waterlore.json counts as it does for a check, and what is wrong with it is said once", async () => {
    const warnings: string[] = [];
    client.connection.onNotification("window/showMessage", ({ message }: { readonly message: string }) => void warnings.push(message));
    const text = `${own}condition wind: in order calm, strong\n`;
    const grades = async (): Promise<unknown[]> => {
      await client.told(uriOf("pier.lore"));
      return client.latest(uriOf("pier.lore"))!.diagnostics.map(({ code, severity }) => [code, severity]);
    };
    writeFileSync(join(folder, "waterlore.json"), `{ "severities": { "never-asked": "error" } }`);
    client.open(uriOf("pier.lore"), text);
    expect(await grades()).toEqual([["never-asked", 1]]);
    writeFileSync(join(folder, "waterlore.json"), `{ "severities": { "never-asked": "off" } }`);
    client.change(uriOf("pier.lore"), 2, { text: `${text}-- more\n` });
    expect(await grades()).toEqual([]);
    writeFileSync(join(folder, "waterlore.json"), `{ "severites": {} }`);
    for (const version of [3, 4]) {
      client.change(uriOf("pier.lore"), version, { text: version === 3 ? text : `${text}-- more\n` });
      expect(await grades()).toEqual([["never-asked", 3]]);
    }
    await client.until(() => warnings.length > 0);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/severites.*severities/);
  });

  const allKnown = (): Promise<unknown> => client.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
  const inFolder = async (): Promise<void> => {
    await client.end();
    const workspaceFolders = [{ uri: pathToFileURL(folder).href, name: "shop" }];
    client = await connect(nodeHost(), everything, undefined, {
      workspaceFolders,
      initializationOptions: { storage: join(folder, ".kept") },
    });
  };

  test("books that nobody has opened are checked as `waterlore check` would, and a broken base at once in all that build on it", async () => {
    writeFileSync(join(folder, "pier.lore"), own);
    mkdirSync(join(folder, "drafts"));
    writeFileSync(join(folder, "drafts", "rough.lore"), "book\n");
    writeFileSync(join(folder, "notes.lore"), "book\n");
    writeFileSync(join(folder, "waterlore.json"), `{ "books": ["base.lore", "pier.lore", "drafts"], "except": ["drafts"] }`);
    await inFolder();
    await allKnown();
    expect(client.published.map(({ uri }) => uri)).toEqual([uriOf("base.lore")]);
    client.open(uriOf("base.lore"), base);
    client.change(uriOf("base.lore"), 2, { text: base.replace("sky", "light") });
    await client.until(() => codes(uriOf("pier.lore")).includes("name"));
    client.close(uriOf("base.lore"));
    await client.until(() => codes(uriOf("pier.lore")).length === 0);
    writeFileSync(join(folder, "waterlore.json"), "{}");
    void client.connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf("waterlore.json"), type: 2 }] });
    await client.until(() => codes(uriOf("notes.lore")).length > 0 && codes(uriOf("drafts/rough.lore")).length > 0);
    rmSync(join(folder, "notes.lore"));
    void client.connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf("notes.lore"), type: 3 }] });
    await client.until(() => codes(uriOf("notes.lore")).length === 0);
  });

  test("what came out for books that are not open is kept, and used only while they are the same", async () => {
    writeFileSync(join(folder, "pier.lore"), own.replace("bright", "brigt"));
    await inFolder();
    await allKnown();
    const kept = join(folder, ".kept", "editor");
    expect(readdirSync(kept)).toHaveLength(2);
    const before = readdirSync(kept).map((name) => statSync(join(kept, name)).mtimeMs);
    const told = client.latest(uriOf("pier.lore"))!.diagnostics;
    expect(told).toMatchObject([{ code: "name" }]);
    await inFolder();
    await allKnown();
    expect(client.latest(uriOf("pier.lore"))!.diagnostics).toEqual(told);
    expect(readdirSync(kept).map((name) => statSync(join(kept, name)).mtimeMs)).toEqual(before);
    writeFileSync(join(folder, "base.lore"), base.replace("bright", "brigt"));
    await inFolder();
    await allKnown();
    expect(codes(uriOf("pier.lore"))).toEqual([]);
  });

  test("every kind of finding has a page that is there", () => {
    expect(nodeHost().hintPage("conflict")).toMatch(/^file:.*\/src\/hints\/conflict\.md$/);
  });

  test("a book that is not in a file yet builds on nothing, and is checked all the same", async () => {
    client.open("untitled:Untitled-1", own);
    await client.until(() => codes("untitled:Untitled-1").includes("file"));
  });
});

describe("in a worker", () => {
  test("files come from the client, each asked for once until it changes", async () => {
    const folder = "memfs://shop/rules";
    const files: Record<string, string> = {
      [`${folder}/base.lore`]: base,
      [`${folder}/other.lore`]: `book "Other"\nbuilds on "base.lore"\n`,
    };
    const asked: string[] = [];
    client = await connect(
      (server) => workerHost(server),
      { ...everything },
      (connection) => {
        connection.onRequest<FileAnswer, void>(READ, ({ uri }: FileParams) => {
          asked.push(uri);
          return uri in files ? { text: files[uri]! } : { problem: "there is no such file" };
        });
        connection.onRequest(FILES, () => Object.keys(files));
      },
    );
    const uri = `${folder}/pier.lore`;
    client.open(uri, own);
    await client.told(uri);
    expect(codes(uri)).toEqual([]);
    client.change(uri, 2, { text: own.replace("bright", "brigt") });
    await client.told(uri);
    expect(codes(uri)).toEqual(["name"]);
    expect(asked).toEqual([`${folder}/waterlore.json`, "memfs://shop/waterlore.json", `${folder}/base.lore`]);
    files[`${folder}/base.lore`] = base.replace("bright", "brigt");
    void client.connection.sendNotification("workspace/didChangeWatchedFiles", { changes: [{ uri: `${folder}/base.lore`, type: 2 }] });
    await client.until(() => codes(uri).length === 0);
    expect(
      (await client.connection.sendRequest(WorkspaceSymbolRequest.type, { query: "bait" }))!.map(({ location }) => location.uri),
    ).toEqual([`${folder}/base.lore`]);
    const { items } = await suggested(client, {
      textDocument: { uri },
      position: { line: 1, character: 12 },
    });
    expect(items.map(({ label }) => label).join(" ")).toContain("other.lore");
    expect(client.published.some(({ diagnostics }) => diagnostics.some(({ code }) => code === "file"))).toBe(false);
  });

  test("a client that knows no files is told so as a finding", async () => {
    client = await connect((server) => workerHost(server));
    client.open("memfs://shop/pier.lore", own);
    await client.until(() => codes("memfs://shop/pier.lore").includes("file"));
  });

  test("the server for workers can be put into one file that knows no Node", async () => {
    client = await connect((server) => workerHost(server));
    const { outputFiles } = await build({
      entryPoints: ["src/faces/server/server-worker.ts"],
      bundle: true,
      write: false,
      platform: "browser",
      format: "iife",
      logLevel: "silent",
    });
    expect(outputFiles[0]!.text).not.toMatch(/require\("(node:)?(fs|path|os|child_process)"\)/);
  });
});
