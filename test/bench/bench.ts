/**
 * `npm run bench`: how fast the checker is, as figures and as ratios against a baseline run in the same process.
 *
 * Medians of several runs, fixed seeds. Absolute times depend on the machine; a ratio holds where its speed drifts. `npm run bench lookup`
 * runs only the parts whose name contains the word.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { analyse } from "../../src/analysis/analyse.js";
import { answers } from "../../src/analysis/answers.js";
import { lookup } from "../../src/analysis/diagrams/diagram.js";
import { answersAt } from "../../src/analysis/point.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { dice, shopBook, sparseBook, splitBook, wildcardBook } from "./books.js";
import { editor } from "./editor.js";
import { folder } from "./folder.js";
import { coldCommands, goals, hardShapes, oneShape } from "./goals.js";
import { growth } from "./growth.js";
import { page } from "./page.js";
import { pieces } from "./pieces.js";
import { questions } from "./questions.js";
import { solverTime } from "./solver.js";
import { stopping } from "./stopping.js";
import { trips } from "./trips.js";
import { typing } from "./typing.js";

const root = fileURLToPath(new URL("../..", import.meta.url));

const parts: readonly (readonly [name: string, run: () => void | Promise<void>])[] = [
  ["goals: user CPU time of an analysis, each beside its goal", () => goals(line)],
  ["cold goals: user CPU time of whole commands on the five books that ship", () => coldCommands(line)],
  ["shapes: books that are hard for their size", () => hardShapes(line)],
  ["shop: 120 patterns, 8 conditions, 10 picks, chained", shop],
  ["columns: 1,500 patterns over numeric columns, 10 % moved in one column", columns],
  ["sparse: rules of thumb that each test a few of 10 conditions", sparse],
  ["wildcard: the worst case, each column a complete signature", wildcard],
  ["lookup: one answer from the compiled diagram", lookups],
  ["growth: checking time against the number of patterns, 50 to 3,000", () => growth(line)],
  ["solver: the same pairs, asked of an SMT solver", solver],
  ["editor: keystroke to answer, in the built language server", () => editor(line)],
  ["typing: what an editor shows while a book of fifteen patterns is typed", () => typing(line)],
  ["folder: 200 books in the background of an editor", () => folder(line)],
  ["page: from a tap to the answer, in a browser", () => page(line)],
  ["pieces: tables worked out beside an editor", () => pieces(line)],
  ["questions: asked before every pick is settled", () => questions(line)],
  ["stopping: from Ctrl-C to the end of a check under way", () => stopping(line)],
  ["trips: a million logged trips, by the command and by SQL", () => trips(line)],
];

const wanted = process.argv[2] ?? "";
if (wanted === "--shape") console.log(oneShape(Number(process.argv[3])));
else
  for (const [name, run] of parts) {
    if (!name.includes(wanted)) continue;
    console.log(`\n${name}`);
    await run();
  }

function line(label: string, ...values: string[]): void {
  console.log(`  ${label.padEnd(44)}${values.map((value) => value.padStart(16)).join(" ")}`);
}

function modelOf(text: string): Model {
  return resolve(parse(text, "bench.lore"), () => ({ problem: "is not here" })).model;
}

/** Milliseconds, the median of several runs. */
function median(runs: number, work: () => void): number {
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[runs >> 1]!;
}

function ms(time: number): string {
  return `${time < 10 ? time.toFixed(2) : time.toFixed(0)} ms`;
}

function ratio(a: number, b: number): string {
  return `${(a / b).toPrecision(3)} ×`;
}

function counted(model: Model): string {
  const { findings, undecided } = analyse(model);
  const byCode = new Map<string, number>();
  for (const { code } of findings) byCode.set(code, (byCode.get(code) ?? 0) + 1);
  return `${[...byCode].map(([code, count]) => `${count} ${code}`).join(", ") || "nothing"}; ${undecided.length} left open`;
}

/** Points drawn with fixed dice. */
function somePoints(model: Model, count: number): number[][] {
  const roll = dice(7);
  return Array.from({ length: count }, () => model.axes.map(({ size }) => roll(size)));
}

/** What going through every point would take, from the time of some: 1,000 direct answers. */
function naive(model: Model): { readonly points: number; readonly time: number } {
  const points = model.axes.reduce((product, { size }) => product * size, 1);
  const some = somePoints(model, 1000);
  return { points, time: (median(3, () => some.forEach((point) => answersAt(model, point))) / some.length) * points };
}

function shop(): void {
  const text = shopBook(120);
  const model = modelOf(text);
  analyse(model);
  const warm = median(9, () => analyse(modelOf(text)));
  const every = naive(model);
  line("warm: parse, resolve, analyse", ms(warm));
  line(
    `every one of ${every.points.toExponential(1)} points, one by one`,
    `${(every.time / 3.6e6).toExponential(1)} h`,
    ratio(every.time, warm),
  );
  const folder = mkdtempSync(join(tmpdir(), "waterlore-bench-"));
  writeFileSync(join(folder, "shop.lore"), text);
  const cold = median(5, () =>
    spawnSync(process.execPath, [join(root, "dist/cli/waterlore.js"), "check", "--no-cache", join(folder, "shop.lore")]),
  );
  const node = median(5, () => spawnSync(process.execPath, ["-e", "0"]));
  rmSync(folder, { recursive: true });
  line("cold command; Node alone", ms(cold), ms(node));
  line("finds", counted(model));
}

function columns(): void {
  for (const count of [3, 5, 7, 13]) {
    const model = modelOf(splitBook(1500, count, 10));
    const time = median(1, () => analyse(model));
    const every = naive(model);
    line(`${count} columns, every finding`, ms(time), ratio(every.time, time), counted(model));
  }
}

function sparse(): void {
  for (const [patterns, tests] of [
    [200, 3],
    [1000, 5],
  ] as const) {
    const model = modelOf(sparseBook(patterns, 10, tests));
    const time = median(1, () => analyse(model));
    line(`${patterns} patterns of ${tests} tests`, ms(time), ratio(naive(model).time, time), counted(model));
  }
}

function wildcard(): void {
  for (let n = 8; n <= 20; n += 2) {
    const model = modelOf(wildcardBook(n));
    const time = median(1, () => analyse(model));
    line(`n = ${n}, ${model.patterns.length} patterns`, ms(time), counted(model));
  }
}

function lookups(): void {
  const model = modelOf(shopBook(120));
  const { picks } = answers(model, { steps: 400_000 });
  const points = somePoints(model, 2000);
  const whole = picks.map((pick) => pick!.whole);
  const compiled = median(9, () => {
    for (const point of points) for (const node of whole) lookup(node, (axis) => point[axis]!);
  });
  const direct = median(3, () => {
    for (const point of points) answersAt(model, point);
  });
  const per = (time: number): string => `${((1000 * time) / points.length / whole.length).toFixed(2)} µs`;
  line("one pick, from its diagram", per(compiled));
  line("one pick, evaluated directly", per(direct), ratio(direct, compiled));
}

async function solver(): Promise<void> {
  const model = modelOf(sparseBook(60, 10, 3));
  const mine = median(3, () => analyse(model));
  const { pairs, time } = await solverTime(model);
  line(`${pairs} pairs: may both hold, and do they disagree`, ms(time), ratio(time, mine));
  line("the whole analysis of the same book", ms(mine));
}
