/**
 * A folder of 200 books in the background of an editor: the built server as a process of its own, files on the disk.
 *
 *     started on a folder it has never seen ──▶ all is known of every book      meanwhile one is open, and hovered over again and again
 *     started again, with what it has kept  ──▶ the same
 *     the base of 199 broken in the editor  ──▶ each of them says so            without the pause that lets a typist go on
 */
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  WorkspaceDiagnosticRequest,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
} from "vscode-languageserver/node";
import { draftBook } from "./books.js";

const program = fileURLToPath(new URL("../../dist/cli/waterlore.js", import.meta.url));
const BOOKS = 200;
/** The pause of the server before it looks at what is not open. */
const REST = 1000;

export async function folder(line: (label: string, ...values: string[]) => void): Promise<void> {
  const shop = mkdtempSync(join(tmpdir(), "waterlore-folder-"));
  const common = draftBook(20)["common.lore"];
  const own = (n: number): string => draftBook(n % 10 === 0 ? 60 : 15, n)["draft.lore"].replace("common.lore", "../common.lore");
  mkdirSync(join(shop, "waters"));
  writeFileSync(join(shop, "common.lore"), common);
  for (let n = 1; n < BOOKS; n++) writeFileSync(join(shop, `waters/${n}.lore`), own(n));
  const uriOf = (name: string): string => pathToFileURL(join(shop, name)).href;
  try {
    line(`${BOOKS} books of 15 to 60 patterns`, "time", "processor");
    const cold = await start(shop);
    cold.open(uriOf("waters/1.lore"), own(1));
    const known = cold.settled();
    const hovers = await whileWaiting(cold.connection, uriOf("waters/1.lore"), known);
    line("never seen before", seconds((await known).time), seconds(cold.processor()));
    line("hover meanwhile, p50 and p95", `${at(hovers, 0.5)} / ${at(hovers, 0.95)} ms`);
    cold.stop();
    const again = await start(shop);
    line("seen before", seconds((await again.settled()).time), seconds(again.processor()));
    again.open(uriOf("common.lore"), common);
    await again.settled();
    const before = again.processor();
    const changed = performance.now();
    again.change(uriOf("common.lore"), common.replace("condition clarity", "condition clearness"));
    const first = await again.broken(1);
    const last = await again.broken(BOOKS - 1);
    line("their base broken: the first of 199 says so", seconds(first - changed - REST));
    line("all of them say so", seconds(last - changed - REST), seconds(again.processor() - before));
    again.stop();
  } finally {
    rmSync(shop, { recursive: true, force: true });
  }
}

interface Server {
  readonly connection: ProtocolConnection;
  open(uri: string, text: string): void;
  change(uri: string, text: string): void;
  /** Once all is known of every book. */
  settled(): Promise<{ readonly time: number }>;
  /** When so many books had a name that is not declared. */
  broken(count: number): Promise<number>;
  /** Milliseconds of its processor's time; 0 where the system does not say. */
  processor(): number;
  stop(): void;
}

async function start(shop: string): Promise<Server> {
  const started = performance.now();
  const child = spawn(process.execPath, [program, "language-server", "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const times = new Map<string, number>();
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics }: PublishDiagnosticsParams) => {
    if (uri.includes("/waters/") && !times.has(uri) && diagnostics.some(({ code }) => code === "name")) times.set(uri, performance.now());
  });
  connection.listen();
  await connection.sendRequest("initialize", {
    processId: process.pid,
    workspaceFolders: [{ uri: pathToFileURL(shop).href, name: "shop" }],
    capabilities: {},
    initializationOptions: { storage: join(shop, "kept") },
  });
  await connection.sendNotification("initialized", {});
  let version = 1;
  return {
    connection,
    open: (uri, text) =>
      void connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "lore", version, text } }),
    change: (uri, text) =>
      void connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version: ++version },
        contentChanges: [{ text }],
      }),
    settled: async () => {
      await connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
      return { time: performance.now() - started };
    },
    broken: async (count) => {
      while (times.size < count) await setTimeout(5);
      return [...times.values()].sort((a, b) => a - b)[count - 1]!;
    },
    processor: () => processorOf(child.pid!),
    stop: () => {
      connection.dispose();
      child.kill();
    },
  };
}

async function whileWaiting(connection: ProtocolConnection, uri: string, end: Promise<unknown>): Promise<readonly number[]> {
  const times: number[] = [];
  const over = end.then(() => true);
  while (!(await Promise.race([over, setTimeout(10, false)]))) {
    const sent = performance.now();
    await connection.sendRequest("textDocument/hover", { textDocument: { uri }, position: { line: 4, character: 12 } });
    times.push(performance.now() - sent);
  }
  return times;
}

/** The fourteenth and fifteenth field of what Linux tells of a process, in hundredths of a second. */
function processorOf(pid: number): number {
  try {
    const [, fields = ""] = /\) (.*)/.exec(readFileSync(`/proc/${pid}/stat`, "utf8")) ?? [];
    const [user, system] = fields.split(" ").slice(11, 13).map(Number);
    return 10 * (user! + system!);
  } catch {
    return 0;
  }
}

function at(times: readonly number[], part: number): string {
  return [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))]!.toFixed(0);
}

function seconds(time: number): string {
  return `${(time / 1000).toFixed(1)} s`;
}
