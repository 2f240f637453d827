/**
 * The server in Node and the one in a worker are one server: on the books that ship and with settings of all kinds, the same edits lead to
 * the same findings, letter by letter, and to the same complaints.
 *
 *     a folder on the disk ─┬──▶ process, which reads it itself ──────────────▶ ┐ the same
 *     edits, files, settings ┴─▶ worker, which asks its client for what is there ▶ ┘
 */
import fc from "fast-check";
import { cpSync, mkdtempSync, readFileSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import {
  FileChangeType,
  ShowMessageNotification,
  WorkspaceDiagnosticRequest,
  type Connection,
  type DidChangeWatchedFilesParams,
} from "vscode-languageserver/node";
import { decode } from "../../src/faces/files/decode.js";
import type { Host } from "../../src/faces/server/host.js";
import { nodeHost } from "../../src/faces/server/node-host.js";
import { FILES, READ, type FileAnswer, type FileParams } from "../../src/faces/server/requests.js";
import { workerHost } from "../../src/faces/server/worker-host.js";
import { fileProblems } from "../../src/messages/cli.js";
import { dice } from "../bench/books.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { root } from "../root.js";
import { shippedBooks } from "../service/marks.js";
import { connect, everything, type Client } from "./client.js";

const STEPS = 250;
/** Text or bytes; undefined: there is no such file. */
const settings: readonly (string | Uint8Array | undefined)[] = [
  undefined,
  `{ "steps": 300 }`,
  `{ "steps": 3000, "severities": { "gap": "note", "does-nothing": "error", "budget": "off", "name": "warning" } }`,
  `\ufeff{ "day": "2031-01-31", "severities": { "never-asked": "error", "syntax": "note" }, "books": ["."] }`,
  `{ "day": "2031-02-31" }`,
  `{ "severites": {}, "severities": { "gapp": "error", "gap": "eror" } }`,
  `{ "steps": 300, `,
  `{ "steps": 300, "steps": 3000 }`,
  `[]`,
  "",
  new Uint8Array([0xff, 0xfe, 0x7b, 0x00, 0x7d, 0x00]),
];

test("the same edits and settings, the same findings and complaints", { timeout: 300_000 }, async () => {
  const roll = dice(Number(process.env["LAW_SEED"] ?? 20270415));
  const folder = realpathSync(mkdtempSync(join(tmpdir(), "waterlore two hosts ")));
  cpSync(join(root, "rules"), folder, { recursive: true });
  const names = Object.keys(shippedBooks());
  const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;
  const buffers = new Map<string, { version: number; text: string }>();
  const servers = await Promise.all([served(nodeHost(), folder), served(workerHost, folder)]);
  const each = (work: (client: Client) => void): void => servers.forEach(({ client }) => work(client));
  const written = (name: string, text: string | Uint8Array | undefined): void => {
    if (text === undefined) rmSync(join(folder, name), { force: true });
    else writeFileSync(join(folder, name), text);
    const params: DidChangeWatchedFilesParams = { changes: [{ uri: uriOf(name), type: FileChangeType.Changed }] };
    each(({ connection }) => void connection.sendNotification("workspace/didChangeWatchedFiles", params));
  };
  const spoilt = (text: string): string => damaged(text, fc.sample(wordDamages(2), { numRuns: 1, seed: roll(1 << 30) })[0]!);
  let findings = 0;
  const graded = new Set<unknown>();
  const agree = async (): Promise<void> => {
    // Of all books, open or not.
    await Promise.all(
      servers.map(({ client }) => client.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] })),
    );
    const [process, worker] = servers.map(({ client, complaints }) => ({
      complaints,
      found: names.map((name) =>
        (client.latest(uriOf(name))?.diagnostics ?? []).map(({ codeDescription: _, ...rest }) => JSON.stringify(rest)).sort(),
      ),
    }));
    expect(worker).toEqual(process);
    for (const found of process!.found.flat()) {
      findings++;
      const { code, severity } = JSON.parse(found) as { readonly code: string; readonly severity: number };
      graded.add(`${code} ${severity}`);
    }
  };
  for (let step = 0; step < STEPS; step++) {
    const name = names[roll(names.length)]!;
    const buffer = buffers.get(name);
    const what = roll(10);
    if (what === 0) written(roll(4) === 0 ? "common/waterlore.json" : "waterlore.json", settings[roll(settings.length)]);
    else if (what === 1) written(name, roll(2) === 0 ? shippedBooks()[name] : spoilt(readFileSync(join(folder, name), "utf8")));
    else if (buffer === undefined) {
      const text = readFileSync(join(folder, name), "utf8");
      buffers.set(name, { version: 1, text });
      each((client) => client.open(uriOf(name), text));
    } else if (what === 2) {
      buffers.delete(name);
      each((client) => client.close(uriOf(name)));
    } else {
      const now = { version: buffer.version + 1, text: roll(3) === 0 ? shippedBooks()[name]! : spoilt(buffer.text) };
      buffers.set(name, now);
      each((client) => client.change(uriOf(name), now.version, { text: now.text }));
    }
    if (roll(5) === 0) await agree();
  }
  await agree();
  expect(findings).toBeGreaterThan(300);
  // Of some kind, findings as grave as usual and as grave as the settings have it.
  expect(["name 2", "syntax 3", "gap 3"].some((one) => graded.has(one) && graded.has(`${one.slice(0, -1)}1`))).toBe(true);
  expect(servers[0].complaints.length).toBeGreaterThan(4);
  for (const { client } of servers) {
    expect(client.log).toEqual([]);
    await client.end();
  }
  rmSync(folder, { recursive: true });
});

async function served(
  host: Host | ((connection: Connection) => Host),
  folder: string,
): Promise<{ readonly client: Client; readonly complaints: readonly string[] }> {
  const complaints: string[] = [];
  const client = await connect(
    host,
    everything,
    (connection) => {
      connection.onNotification(ShowMessageNotification.type, ({ message }) => void complaints.push(message));
      connection.onRequest<FileAnswer, void>(READ, ({ uri }: FileParams) => {
        try {
          return decode(readFileSync(fileURLToPath(uri)));
        } catch {
          return { problem: fileProblems.byCode["ENOENT"]! };
        }
      });
      connection.onRequest(FILES, () => Object.keys(shippedBooks()).map((name) => pathToFileURL(join(folder, name)).href));
    },
    { rootUri: pathToFileURL(folder).href, workspaceFolders: [{ uri: pathToFileURL(folder).href, name: "shop" }] },
  );
  return { client, complaints };
}
