/**
 * How long the editor waits: the built server as a process of its own, spoken to as an editor speaks to it, over scripted edits.
 *
 *     keystroke ──▶ findings of reading        each edit breaks or mends a pattern, so that there is something to tell each time
 *               └─▶ all findings               without the pause that the server makes to let the typist go on
 *     keystroke and, at once, completion or hover ──▶ answer
 *     hover again and again while the analysis runs ──▶ the longest that one had to wait
 */
import { spawn } from "node:child_process";
import { setTimeout } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type PublishDiagnosticsParams,
} from "vscode-languageserver/node";
import { openView } from "../../src/service/view.js";
import { parse } from "../../src/syntax/parse.js";
import { lineMap } from "../../src/text.js";
import { dice, shopBook } from "./books.js";

type Line = (label: string, ...values: string[]) => void;

const program = fileURLToPath(new URL("../../dist/cli/waterlore.js", import.meta.url));
const uri = "file:///bench/shop.lore";
/** The pause of the server before it analyses. Milliseconds. */
const QUIET = 150;
/** Nobody waits longer. */
const LONGEST = 60_000;

export async function editor(line: Line): Promise<void> {
  line("milliseconds, p50 and p95", "", "");
  for (const [patterns, edits, analyses] of [
    [120, 60, 20],
    [1000, 30, 4],
  ] as const) {
    const server = await start(shopBook(patterns));
    const { reading, all } = await type(server, patterns, edits, analyses);
    const [completion, hover] = [await ask(server, patterns, edits, "completion"), await ask(server, patterns, edits, "hover")];
    const busy = await whileBusy(server, patterns);
    server.stop();
    const shown = (times: readonly number[]): string =>
      times.length === 0 ? "too long" : `${at(times, 0.5).toFixed(0)} / ${at(times, 0.95).toFixed(0)} ms`;
    line(`${patterns} patterns: reading alone, CPU time`, shown(readingAgain(patterns)));
    line(`${patterns} patterns: findings of reading`, shown(reading));
    line(`${patterns} patterns: all findings`, shown(all));
    line(`${patterns} patterns: completion after a keystroke`, shown(completion));
    line(`${patterns} patterns: hover after a keystroke`, shown(hover));
    line(`${patterns} patterns: hover while it analyses`, shown(busy));
  }
}

function at(times: readonly number[], part: number): number {
  return [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))]!;
}

interface Server {
  text(): string;
  /** Puts a text in place of another, and gives back when that was sent, and as which version. */
  edit(start: number, length: number, text: string): { readonly sent: number; readonly version: number };
  /** When the next findings of a version came, or of what holds of them. */
  told(version: number, count?: number): Promise<number | undefined>;
  request(method: string, offset: number): Promise<unknown>;
  stop(): void;
}

async function start(book: string): Promise<Server> {
  const child = spawn(process.execPath, [program, "language-server", "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const published: { readonly version: number; readonly time: number }[] = [];
  connection.onNotification(
    "textDocument/publishDiagnostics",
    ({ version }: PublishDiagnosticsParams) => void published.push({ version: version!, time: performance.now() }),
  );
  connection.listen();
  await connection.sendRequest("initialize", { processId: process.pid, rootUri: "file:///bench", capabilities: {} });
  await connection.sendNotification("initialized", {});
  let [text, version] = [book, 1];
  await connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "lore", version, text } });
  const position = (offset: number) => {
    const { line, column } = lineMap(text).position(offset);
    return { line: line - 1, character: column - 1 };
  };
  const told = async (wanted: number, count = 1): Promise<number | undefined> => {
    for (const started = performance.now(); performance.now() - started < LONGEST;) {
      const found = published.filter((one) => one.version === wanted)[count - 1];
      if (found !== undefined) return found.time;
      await setTimeout(1);
    }
    return undefined;
  };
  await told(1, 1);
  // The first analysis, with everything cold.
  await Promise.race([connection.sendRequest("textDocument/codeLens", { textDocument: { uri } }), setTimeout(LONGEST)]);
  return {
    text: () => text,
    edit: (start, length, put) => {
      const range = { start: position(start), end: position(start + length) };
      text = text.slice(0, start) + put + text.slice(start + length);
      const sent = performance.now();
      void connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version: ++version },
        contentChanges: [{ range, text: put }],
      });
      return { sent, version };
    },
    told,
    request: (method, offset) => connection.sendRequest(`textDocument/${method}`, { textDocument: { uri }, position: position(offset) }),
    stop: () => {
      connection.dispose();
      child.kill();
    },
  };
}

/** The place after `go with` in some pattern. */
function somewhere(text: string, patterns: number, roll: (sides: number) => number): number {
  const pattern = text.indexOf(`"Rule ${roll(patterns)}"`);
  return text.indexOf("go with ", pattern) + "go with ".length;
}

async function type(
  server: Server,
  patterns: number,
  edits: number,
  analyses: number,
): Promise<{ readonly reading: readonly number[]; readonly all: readonly number[] }> {
  const roll = dice(3);
  const [reading, all]: [number[], number[]] = [[], []];
  for (let n = 0; n < edits; n++) {
    const place = somewhere(server.text(), patterns, roll);
    const broken = server.edit(place, 0, "x");
    const seen = await server.told(broken.version);
    await setTimeout(100);
    const mended = server.edit(place, 1, "");
    const gone = await server.told(mended.version);
    if (seen !== undefined && gone !== undefined) reading.push(seen - broken.sent, gone - mended.sent);
    if (n >= analyses) {
      await setTimeout(100);
      continue;
    }
    const known = await server.told(mended.version, 2);
    if (known === undefined) break;
    all.push(known - mended.sent - QUIET);
  }
  return { reading, all };
}

async function ask(server: Server, patterns: number, edits: number, method: string): Promise<readonly number[]> {
  const roll = dice(5);
  const times: number[] = [];
  for (let n = 0; n < edits; n++) {
    const place = somewhere(server.text(), patterns, roll);
    const { sent } = server.edit(place, 0, "x");
    await server.request(method, place + 1);
    times.push(performance.now() - sent);
    const mended = server.edit(place, 1, "");
    await server.told(mended.version);
    // As fast as people type.
    await setTimeout(100);
  }
  return times;
}

/** Time of the processor for reading the text after a keystroke, without the protocol: the same however busy the machine is. */
function readingAgain(patterns: number): readonly number[] {
  const roll = dice(3);
  const sound = shopBook(patterns);
  let parsed = parse(sound, "shop.lore");
  const times = Array.from({ length: 120 }, (_, n) => {
    const place = somewhere(sound, patterns, roll);
    const text = n % 2 === 0 ? `${sound.slice(0, place)}x${sound.slice(place)}` : sound;
    const before = process.cpuUsage().user;
    parsed = parse(text, "shop.lore", parsed);
    openView("shop.lore", text, () => ({ problem: "is not here" }), { parsed });
    return (process.cpuUsage().user - before) / 1000;
  });
  // The first ones warm the engine up.
  return times.slice(20);
}

/** For two seconds after an edit, for most of which the server is at its analysis. */
async function whileBusy(server: Server, patterns: number): Promise<readonly number[]> {
  const place = somewhere(server.text(), patterns, dice(9));
  server.edit(place, 0, "x");
  server.edit(place, 1, "");
  const times: number[] = [];
  for (const started = performance.now(); performance.now() - started < 2000;) {
    const sent = performance.now();
    await server.request("hover", place);
    times.push(performance.now() - sent);
    await setTimeout(10);
  }
  return times;
}
