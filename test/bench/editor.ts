/**
 * How long the editor waits: the built server as a process of its own, spoken to as an editor speaks to it, over scripted edits.
 *
 *     letter ──▶ findings of reading           each letter breaks or mends a pattern, so that there is something to tell each time
 *            ├─▶ completion, hover             asked for at once
 *            └─▶ the analysis                  without the pause that the server makes to let the typist go on
 *     opened ──▶ the table of the pick under the cursor, of every pick
 *     hover again and again while tables are made, while the book is analysed ──▶ answer
 *
 * Beside each time stands how long the server's own thread was at work meanwhile, where the system tells (Linux): what others do on the
 * machine is no part of that.
 */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { setTimeout } from "node:timers/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
  type PublishDiagnosticsParams,
} from "vscode-languageserver/node";
import type { TableAnswer } from "../../src/faces/server/requests.js";
import { lineMap } from "../../src/text.js";
import { dice, shopBook } from "./books.js";

type Line = (label: string, ...values: string[]) => void;

const root = fileURLToPath(new URL("../..", import.meta.url));
/** Another build can be measured beside this one, in the same minutes: `SERVER=…/dist/cli/waterlore.js`. */
const program = process.env["SERVER"] ?? `${root}dist/cli/waterlore.js`;
/** The pause of the server before it analyses. Milliseconds. */
const QUIET = 150;
/** Nobody waits longer. */
const LONGEST = 60_000;

const rules = pathToFileURL(`${root}rules/`).href;
const books = [
  { name: "reservoir.lore", uri: `${rules}reservoir.lore`, text: readFileSync(`${root}rules/reservoir.lore`, "utf8"), letters: 60 },
  { name: "5,000 lines", uri: "file:///bench/shop.lore", text: shopBook(1650), letters: 10 },
];

export async function editor(line: Line): Promise<void> {
  line("milliseconds", "p50", "p95", "p95 at work", "goal of p95");
  for (const { name, uri, text, letters } of books) {
    const server = await start(uri, text);
    const roll = dice(3);
    const [first, all] = await tables(server);
    await server.analysed();
    const rows: readonly (readonly [what: string, waits: readonly Wait[], goal?: number])[] = [
      ["a request that needs no work", await nothing(server)],
      ["letter to findings", await findings(server, roll, letters), 60],
      ["letter to completion", await asked(server, roll, letters, "textDocument/completion"), 100],
      ["letter to hover", await asked(server, roll, letters, "textDocument/hover")],
      ["the analysis, after the pause", await analyses(server, roll, Math.ceil(letters / 5)), 150],
      ["hover while it analyses", await whileAnalysing(server, roll)],
      ["opened to the first table", [first], 2000],
      ["opened to the last table", [all]],
      ["hover while tables are made", await whileTables(server, roll), 100],
    ];
    server.stop();
    line(name);
    for (const [what, waits, goal] of rows) {
      const [times, work] = [waits.map(({ time }) => time), waits.flatMap(({ work }) => work ?? [])];
      line(`  ${what}`, ms(times, 0.5), ms(times, 0.95), work.length === 0 ? "" : ms(work, 0.95), goal === undefined ? "" : String(goal));
    }
  }
}

function ms(times: readonly number[], part: number): string {
  return [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))]?.toFixed(0) ?? "too long";
}

/** From a question to its answer, and how much of that the server was at work. Milliseconds. */
interface Wait {
  readonly time: number;
  readonly work?: number;
}

interface Server {
  text(): string;
  /** Puts a text in place of another, and gives back as which version. */
  edit(start: number, length: number, text: string): number;
  /** Begins a wait; called, it ends it. */
  waiting(): () => Wait;
  /** Ends a wait when the first findings of a version come; undefined: they do not. */
  told(version: number, wait: () => Wait): Promise<Wait | undefined>;
  /** Comes back when all is known of the book as it is now. */
  analysed(): Promise<unknown>;
  ask(method: string, offset: number): Promise<unknown>;
  table(picks: readonly string[]): Promise<TableAnswer>;
  /** Since the book was opened. */
  readonly opened: () => Wait;
  stop(): void;
}

async function start(uri: string, book: string): Promise<Server> {
  const child = spawn(process.execPath, [program, "language-server", "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  const connection = createProtocolConnection(new StreamMessageReader(child.stdout), new StreamMessageWriter(child.stdin));
  const told = new Map<number, () => void>();
  connection.onNotification("textDocument/publishDiagnostics", (params: PublishDiagnosticsParams) => {
    if (params.uri === uri) told.get(params.version!)?.();
  });
  const waiting = (): (() => Wait) => {
    const [started, before] = [performance.now(), atWork(child.pid!)];
    return () => ({ time: performance.now() - started, ...(before !== undefined && { work: atWork(child.pid!)! - before }) });
  };
  connection.listen();
  const textDocument = { uri };
  await connection.sendRequest("initialize", { processId: process.pid, rootUri: uri.replace(/\/[^/]*$/, ""), capabilities: {} });
  await connection.sendNotification("initialized", {});
  let [text, version] = [book, 1];
  const opened = waiting();
  await connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "lore", version, text } });
  const position = (offset: number) => {
    const { line, column } = lineMap(text).position(offset);
    return { line: line - 1, character: column - 1 };
  };
  return {
    opened,
    text: () => text,
    edit: (start, length, put) => {
      const range = { start: position(start), end: position(start + length) };
      text = text.slice(0, start) + put + text.slice(start + length);
      void connection.sendNotification("textDocument/didChange", {
        textDocument: { uri, version: ++version },
        contentChanges: [{ range, text: put }],
      });
      return version;
    },
    waiting,
    told: (version, wait) =>
      Promise.race([new Promise<Wait>((done) => told.set(version, () => done(wait()))), setTimeout(LONGEST, undefined, { ref: false })]),
    analysed: () => connection.sendRequest("textDocument/codeLens", { textDocument }),
    ask: (method, offset) => connection.sendRequest(method, { textDocument, position: position(offset) }),
    table: (picks) => connection.sendRequest<TableAnswer>("waterlore/table", { textDocument, picks }),
    stop: () => {
      connection.dispose();
      child.kill();
    },
  };
}

/** Milliseconds for which a process's first thread has been at work. */
function atWork(pid: number): number | undefined {
  try {
    return Number(readFileSync(`/proc/${pid}/schedstat`, "utf8").split(" ")[0]) / 1e6;
  } catch {
    return undefined;
  }
}

/** From the opening of the book until the tables of its first and of its last pick are there. */
async function tables(server: Server): Promise<readonly [first: Wait, all: Wait]> {
  const { picks = [] } = await server.table([]);
  const waits: Wait[] = [];
  for (const { name } of picks) {
    await server.table([name]);
    waits.push(server.opened());
  }
  return [waits[0]!, waits.at(-1)!];
}

async function nothing(server: Server): Promise<readonly Wait[]> {
  const waits: Wait[] = [];
  for (let n = 0; n < 60; n++) waits.push(await timed(server, () => server.ask("workspace/nothing", 0).catch(() => undefined)));
  return waits;
}

async function timed(server: Server, work: () => Promise<unknown>): Promise<Wait> {
  const wait = server.waiting();
  await work();
  return wait();
}

/** The place after some `go with `. */
function somewhere(text: string, roll: (sides: number) => number): number {
  const places = [...text.matchAll(/^ {2}go with /gm)].map(({ index, 0: found }) => index + found.length);
  return places[roll(places.length)]!;
}

/** As fast as people type. */
const pace = (roll: (sides: number) => number): Promise<void> => setTimeout(40 + roll(120));

async function findings(server: Server, roll: (sides: number) => number, letters: number): Promise<readonly Wait[]> {
  const waits: Wait[] = [];
  for (let n = 0; n < letters; n++) {
    const place = somewhere(server.text(), roll);
    for (const edit of [["x", 0] as const, ["", 1] as const]) {
      const wait = server.waiting();
      const told = await server.told(server.edit(place, edit[1], edit[0]), wait);
      if (told !== undefined) waits.push(told);
      await pace(roll);
    }
  }
  return waits;
}

async function asked(server: Server, roll: (sides: number) => number, letters: number, method: string): Promise<readonly Wait[]> {
  const waits: Wait[] = [];
  for (let n = 0; n < letters; n++) {
    const place = somewhere(server.text(), roll);
    server.edit(place, 0, "x");
    waits.push(await timed(server, () => server.ask(method, place + 1)));
    await pace(roll);
    server.edit(place, 1, "");
    await pace(roll);
  }
  return waits;
}

/** An option of a pattern becomes the next one of its pick, or the first of it a second choice: all is to be worked out that follows from it. */
async function analyses(server: Server, roll: (sides: number) => number, edits: number): Promise<readonly Wait[]> {
  const waits: Wait[] = [];
  for (let n = 0; n < edits; n++) {
    const text = server.text();
    const place = somewhere(text, roll);
    const end = text.indexOf("\n", place);
    const told = text.slice(place, end);
    const half = /^\S+ \S+?(?=,)/.exec(told)?.[0] ?? told;
    const wait = server.waiting();
    server.edit(place, told.length, half === told ? told.replace(/\S+$/, "x") : half);
    await server.analysed();
    const { time, ...rest } = wait();
    waits.push({ time: time - QUIET, ...rest });
    server.edit(place, server.text().indexOf("\n", place) - place, told);
    await server.analysed();
  }
  return waits;
}

/** While it works out what follows from an edit, a few times. */
async function whileAnalysing(server: Server, roll: (sides: number) => number): Promise<readonly Wait[]> {
  const waits: Wait[] = [];
  for (let n = 0; n < 3; n++) {
    const place = somewhere(server.text(), roll);
    server.edit(place, 0, "x");
    server.edit(place, 1, "");
    waits.push(...(await hovering(server, roll, server.analysed())));
  }
  return waits;
}

/** While the tables of all picks are made, after a change of the book. */
async function whileTables(server: Server, roll: (sides: number) => number): Promise<readonly Wait[]> {
  const { picks = [] } = await server.table([]);
  server.edit(server.text().length, 0, "\n");
  await server.analysed();
  const made = async (): Promise<void> => {
    for (const { name } of picks) await server.table([name]);
  };
  return hovering(server, roll, made());
}

/** Hovers here and there until something is done. */
async function hovering(server: Server, roll: (sides: number) => number, work: Promise<unknown>): Promise<readonly Wait[]> {
  const end = new AbortController();
  void work.finally(() => end.abort());
  const waits: Wait[] = [];
  while (!end.signal.aborted) {
    const place = somewhere(server.text(), roll);
    waits.push(await timed(server, () => server.ask("textDocument/hover", place)));
    await setTimeout(10);
  }
  return waits;
}
