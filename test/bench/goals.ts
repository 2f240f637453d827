/**
 * What the engine should keep to: the user CPU time of each, beside a goal, and beside the time of a fixed piece of arithmetic in the same
 * run, so that two machines can be compared.
 */
import { spawnSync } from "node:child_process";
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
