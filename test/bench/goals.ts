/**
 * What the engine should keep to: the user CPU time of each, beside a goal, and beside the time of a fixed piece of arithmetic in the same
 * run, so that two machines can be compared.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { analyse } from "../../src/analysis/analyse.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { draftBook, shopBook, sparseBook, splitBook } from "./books.js";
import { shapes } from "./shapes.js";

type Line = (label: string, ...values: string[]) => void;
type Books = Readonly<Record<string, string>>;

const one = (text: string): Books => ({ "book.lore": text });
const books: readonly (readonly [name: string, books: Books, runs: number, goal: number])[] = [
  ["shop of 120", one(shopBook(120)), 5, 100],
  ...[1, 2, 3].map((seed) => [`draft of 120, ${seed}`, draftBook(120, seed), 3, 400] as const),
  ["draft of 200", draftBook(200, 4), 1, 1000],
  ...[3, 5, 7, 13].map((columns) => [`1,500 over ${columns} columns`, one(splitBook(1500, columns, 10)), 1, 500] as const),
  ["200 sparse of 3 tests", one(sparseBook(200, 10, 3)), 1, 1000],
  ["1,000 sparse of 5 tests", one(sparseBook(1000, 10, 5)), 1, 1500],
  ["shop of 480", one(shopBook(480)), 1, 1000],
  ["shop of 1,000", one(shopBook(1000)), 1, 2000],
];

export function goals(line: Line): void {
  const unit = arithmetic();
  line("a fixed piece of arithmetic", ms(unit));
  for (const [name, texts, runs, goal] of books) {
    const times: number[] = [];
    let open = 0;
    for (let run = 0; run < runs; run++) {
      const { time, left } = analysed(texts);
      times.push(time);
      open = left;
    }
    const time = times.sort((a, b) => a - b)[runs >> 1]!;
    line(name, ms(time), `goal ${ms(goal)}`, `${(time / unit).toFixed(1)} × arithmetic`, `${open} left open`);
  }
}

const root = fileURLToPath(new URL("../..", import.meta.url));
const shipped = ["blades", "hollin-cove", "inshore", "reservoir", "river"].map((name) => join("rules", `${name}.lore`));

/** Commands as a user starts them, in a process of their own, without what an earlier run has kept. */
export function coldCommands(line: Line): void {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-cold-"));
  const program = join(root, "dist/cli/waterlore.js");
  const commands: readonly (readonly [name: string, goal: number, ...args: string[]])[] = [
    ["Node alone", 60, "-e", "0"],
    ["check of the five", 1000, program, "check", "--no-cache", ...shipped],
    ["table of the reservoir", 800, program, "table", "rules/reservoir.lore"],
    ["publish of the five, with their data", 4000, program, "publish", ...shipped, "--to", join(folder, "site")],
  ];
  for (const [name, goal, ...args] of commands) {
    const times = [1, 2, 3].map(() => cpuOf(args)).sort((a, b) => a - b);
    line(name, ms(times[1]!), `goal ${ms(goal)}`);
  }
  rmSync(folder, { recursive: true });
}

const TELL = `data:text/javascript,${encodeURIComponent('process.on("exit", () => process.stderr.write("\\ncpu " + process.cpuUsage().user))')}`;

/** User CPU time of a Node process of its own, in milliseconds. */
function cpuOf(args: readonly string[]): number {
  const { stderr, status } = spawnSync(process.execPath, ["--import", TELL, ...args], { cwd: root, encoding: "utf8", maxBuffer: 2 ** 28 });
  const told = /\ncpu (\d+)$/.exec(stderr);
  if (status !== 0 || !told) throw new Error(`${args.join(" ")} ended with ${status}: ${stderr}`);
  return Number(told[1]) / 1000;
}

/** Every hard shape in a process of its own: seconds, megabytes, what was left open. */
export function hardShapes(line: Line): void {
  for (const [at, { name }] of shapes().entries()) {
    const { stdout } = spawnSync(process.execPath, [fileURLToPath(import.meta.url), "--shape", String(at)], { encoding: "utf8" });
    line(name, ...stdout.trim().split("\t"));
  }
}

/** The process of one shape. */
export function oneShape(at: number): string {
  const { time, left } = analysed(one(shapes()[at]!.text));
  return [ms(time), `${Math.round(process.resourceUsage().maxRSS / 1024)} MB`, `${left} left open`].join("\t");
}

function analysed(texts: Books): { readonly time: number; readonly left: number } {
  const root = Object.keys(texts).at(-1)!;
  const before = process.cpuUsage();
  const { model } = resolve(parse(texts[root]!, root), (path) => (path in texts ? { text: texts[path]! } : { problem: "is not here" }));
  const { undecided } = analyse(model);
  return { time: process.cpuUsage(before).user / 1000, left: undecided.length };
}

/** Thirty million steps of a linear congruential generator: the median of five. */
function arithmetic(): number {
  const times = Array.from({ length: 5 }, (_, run) => {
    const before = process.cpuUsage();
    let state = run;
    for (let i = 0; i < 30_000_000; i++) state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return process.cpuUsage(before).user / 1000 + (state === 0.5 ? 1 : 0);
  });
  return times.sort((a, b) => a - b)[2]!;
}

function ms(time: number): string {
  return `${time.toFixed(0)} ms`;
}
