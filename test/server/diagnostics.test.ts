/** What the server tells of books, and when: over the protocol, with the real server. */
import { setTimeout } from "node:timers/promises";
import { afterEach, describe, expect, test } from "vitest";
import {
  DidChangeWatchedFilesNotification,
  FileChangeType,
  RegistrationRequest,
  type PublishDiagnosticsParams,
  type Registration,
} from "vscode-languageserver/node";
import type { Host } from "../../src/faces/server/host.js";
import { connect, everything, FOLDER, memoryHost, type Client } from "./client.js";

const uri = `${FOLDER}/pier.lore`;
const head = `book "Pier"
pick bait: worm, jig
condition sky: in order bright, dark
condition wind: in order calm, strong
`;
const sun = `pattern "Sun wants worm"
  go with bait worm
  when sky is bright
`;
const blow = `pattern "Wind wants jig"
  go with bait jig
  when wind is strong
`;
const clean = `${head}${sun}fall back on bait jig\n`.replace("condition wind: in order calm, strong\n", "");
const clash = `${head}${sun}${blow}fall back on bait jig\n`;

let client: Client;
afterEach(() => client.end());
const start = async (files: Readonly<Record<string, string>> = {}, change: Partial<Host> = {}): Promise<Map<string, string>> => {
  const map = new Map(Object.entries(files).map(([name, text]) => [new URL(name, `${FOLDER}/`).href, text]));
  client = await connect(memoryHost(map, change));
  return map;
};
const codesOf = (params: PublishDiagnosticsParams | undefined): string[] =>
  (params?.diagnostics ?? []).map(({ code }) => String(code)).sort();
const shows = (at: string, ...codes: string[]): Promise<void> =>
  client.until(() => JSON.stringify(codesOf(client.latest(at))) === JSON.stringify(codes), `${at}: ${codes.join(", ")}`);

describe("findings of one book", () => {
  test("come with their page, the rival's place, and the version they are of", async () => {
    await start();
    client.open(uri, clash);
    await shows(uri, "conflict");
    const { version, diagnostics } = client.latest(uri)!;
    expect(version).toBe(1);
    expect(diagnostics[0]).toMatchObject({
      range: { start: { line: 7, character: 8 }, end: { line: 7, character: 24 } },
      severity: 1,
      source: "waterlore",
      codeDescription: { href: "hints:conflict" },
      relatedInformation: [{ location: { uri, range: { start: { line: 4, character: 8 }, end: { line: 4, character: 24 } } } }],
    });
  });

  test("fade a pattern that does nothing", async () => {
    await start();
    client.open(uri, `${clean}pattern "Twin"\n  go with bait worm\n  when sky is bright\n`);
    await client.until(() => codesOf(client.latest(uri)).includes("does-nothing"));
    expect(
      client
        .latest(uri)!
        .diagnostics.filter(({ tags }) => tags?.includes(1))
        .map(({ code }) => code),
    ).toContain("does-nothing");
  });

  test("leave out what the client cannot show", async () => {
    client = await connect(memoryHost(new Map()), {});
    client.open(uri, clash);
    await shows(uri, "conflict");
    const [one] = client.latest(uri)!.diagnostics;
    expect([one!.relatedInformation, one!.codeDescription, one!.tags]).toEqual([undefined, undefined, undefined]);
  });

  test("follow edits: first what reading finds, beside what is true of the rest until the next analysis, then all", async () => {
    await start();
    client.open(uri, clash);
    await shows(uri, "conflict");
    const before = client.published.length;
    client.change(uri, 2, { range: { start: { line: 5, character: 15 }, end: { line: 5, character: 19 } }, text: "wrom" });
    await client.until(() => client.published.length > before);
    expect(client.published[before]).toMatchObject({ version: 2 });
    expect(codesOf(client.published[before])).toEqual(["conflict", "name"]);
    client.change(uri, 3, { range: { start: { line: 5, character: 15 }, end: { line: 5, character: 19 } }, text: "worm" });
    await shows(uri, "conflict");
    expect(client.latest(uri)!.version).toBe(3);
  });

  test("stay as they are while an edit changes nothing that reading finds, and are told once more when all is known", async () => {
    await start();
    client.open(uri, clash);
    await shows(uri, "conflict");
    const before = client.published.length;
    for (let version = 2; version < 8; version++) {
      client.change(uri, version, { range: { start: { line: 0, character: 11 }, end: { line: 0, character: 11 } }, text: " -- note\n" });
      await setTimeout(1);
    }
    await client.until(() => client.latest(uri)!.version === 7);
    expect(
      client.published.slice(before).map(({ version, diagnostics }) => [version, diagnostics[0]?.code, diagnostics[0]?.range.start.line]),
    ).toEqual([[7, "conflict", 13]]);
  });

  test("are gone when the book is closed, and are not told afterwards", async () => {
    await start();
    client.open(uri, clash);
    await shows(uri, "conflict");
    client.change(uri, 2, { text: `${clash}-- more\n` });
    client.close(uri);
    await shows(uri);
    const before = client.published.length;
    await client.quiet();
    expect(client.published.length).toBe(before);
  });

  test("are told again when it is opened again", async () => {
    await start();
    client.open(uri, clash);
    await shows(uri, "conflict");
    client.close(uri);
    await shows(uri);
    client.open(uri, clash);
    await shows(uri, "conflict");
  });

  test("go by the settings beside the book, and are told anew when those change", async () => {
    const settings = `${FOLDER}/waterlore.json`;
    const files = await start({ "waterlore.json": `{ "severities": { "conflict": "off" } }` });
    client.open(uri, clash);
    await client.told(uri);
    expect(codesOf(client.latest(uri))).toEqual([]);
    files.set(settings, `{ "severities": { "conflict": "note" } }`);
    void client.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
      changes: [{ uri: settings, type: FileChangeType.Changed }],
    });
    await shows(uri, "conflict");
    expect(client.latest(uri)!.diagnostics[0]!.severity).toBe(3);
  });

  test("go by the day of the settings", async () => {
    const text = clean.replace("  when sky is bright\n", "  when sky is bright\n  until 2026-12-31\n");
    client = await connect(memoryHost(new Map()), everything, undefined, { initializationOptions: { day: "2026-06-01" } });
    client.open(uri, text);
    await client.told(uri);
    expect(codesOf(client.latest(uri))).toEqual([]);
    void client.connection.sendNotification("workspace/didChangeConfiguration", { settings: { waterlore: { day: "2027-06-01" } } });
    await client.until(() => codesOf(client.latest(uri)).includes("stale"));
  });

  test("go by the day of today, where the settings name one that is not in the calendar", async () => {
    const text = clean.replace("  when sky is bright\n", "  when sky is bright\n  until 2026-12-31\n");
    client = await connect(memoryHost(new Map()), everything, undefined, { initializationOptions: { day: "2026-02-30" } });
    client.open(uri, text);
    await client.until(() => codesOf(client.latest(uri)).includes("stale"));
  });
});

describe("books that build on another", () => {
  const base = clean;
  const own = `book "Ours"\nbuilds on "base.lore"\npattern "Dark wants jig"\n  go with bait jig\n  when sky is dark\n`;
  const [baseUri, ownUri] = [`${FOLDER}/base.lore`, `${FOLDER}/own.lore`];
  const renamed = base.replaceAll("sky", "light");

  test("are checked again as the base is typed in, saved or not, and when it is closed unsaved", async () => {
    await start({ "base.lore": base, "own.lore": own });
    client.open(ownUri, own);
    client.open(baseUri, base);
    await client.told(baseUri, ownUri);
    expect(codesOf(client.latest(ownUri))).toEqual([]);
    client.change(baseUri, 2, { text: renamed });
    await shows(ownUri, "name");
    client.close(baseUri);
    await shows(ownUri);
  });

  test("are checked again when the file of the base changes, goes, and comes back", async () => {
    const files = await start({ "own.lore": own });
    const tell = (type: FileChangeType): void =>
      void client.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [{ uri: baseUri, type }] });
    client.open(ownUri, own);
    await shows(ownUri, "file");
    files.set(baseUri, base);
    tell(FileChangeType.Created);
    await shows(ownUri);
    files.set(baseUri, renamed);
    tell(FileChangeType.Changed);
    await shows(ownUri, "name");
    files.delete(baseUri);
    tell(FileChangeType.Deleted);
    await shows(ownUri, "file");
  });

  test("show in the base what they find there, each thing once, until they are closed", async () => {
    const gap = base.replace("fall back on bait jig\n", "");
    const baseUri = "file:///elsewhere/base.lore";
    await start({ "../elsewhere/base.lore": gap });
    client.open(ownUri, own.replace("dark\n", "dark and sky is bright\n").replace("base.lore", "../elsewhere/base.lore"));
    await client.until(() => codesOf(client.latest(baseUri)).includes("gap"));
    expect(client.latest(baseUri)!.version).toBeUndefined();
    client.open(baseUri, gap);
    await client.until(() => client.latest(baseUri)!.version === 1 && codesOf(client.latest(baseUri)).includes("gap"));
    await client.told(baseUri, ownUri);
    expect(codesOf(client.latest(baseUri)).filter((code) => code === "gap")).toEqual(["gap"]);
    client.close(ownUri);
    client.close(baseUri);
    await client.quiet();
    expect(client.latest(baseUri)!.diagnostics).toEqual([]);
    expect(client.latest(ownUri)!.diagnostics).toEqual([]);
  });
});

test("the client is asked to watch books and settings, where it can", async () => {
  const asked: Registration[] = [];
  client = await connect(memoryHost(new Map()), { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } }, (connection) =>
    connection.onRequest(RegistrationRequest.type, ({ registrations }) => void asked.push(...registrations)),
  );
  await client.until(() => asked.length > 0);
  expect(asked).toMatchObject([
    {
      method: "workspace/didChangeWatchedFiles",
      registerOptions: { watchers: [{ globPattern: "**/*.lore" }, { globPattern: "**/waterlore.json" }] },
    },
  ]);
});
