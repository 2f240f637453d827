/**
 * Checking time against the number of patterns, 50 to 3,000, of three kinds of book: user CPU time of a whole analysis, as figures and as the
 * picture that DEVELOPERS.md shows.
 *
 *      10 s ┤            ╱      both axes by powers of ten: a straight line at 45° is time in proportion to the patterns
 *       1 s ┤       ╱
 *     0.1 s ┤  ╱
 *           └──┬────┬────┬──
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { analyse } from "../../src/analysis/analyse.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { shopBook, sparseBook, splitBook } from "./books.js";

type Line = (label: string, ...values: string[]) => void;

interface Kind {
  readonly name: string;
  readonly color: string;
  readonly book: (patterns: number) => string;
}

const sizes = [50, 100, 200, 400, 800, 1500, 3000];
const kinds: readonly Kind[] = [
  { name: "a shop", color: "#0a6b78", book: (patterns) => shopBook(patterns) },
  { name: "boxes over 5 columns", color: "#a04a00", book: (patterns) => splitBook(patterns, 5, 10) },
  { name: "sparse, 5 tests each", color: "#6a3d9a", book: (patterns) => sparseBook(patterns, 10, 5) },
];

/** Milliseconds, and how many things were left open. */
interface Run {
  readonly time: number;
  readonly open: number;
}

/** By kind and size. */
type Runs = readonly (readonly Run[])[];

export function growth(line: Line): void {
  for (const { book } of kinds) analysed(book(100));
  const runs = kinds.map(({ name, book }) =>
    sizes.map((patterns) => {
      const run = analysed(book(patterns));
      const each = (run.time / patterns).toFixed(2);
      line(`${name}, ${patterns.toLocaleString("en")} patterns`, `${run.time.toFixed(0)} ms`, `${each} ms each`, `${run.open} left open`);
      return run;
    }),
  );
  writeFileSync(fileURLToPath(new URL("../../test/bench/growth.svg", import.meta.url)), picture(runs));
}

function analysed(text: string): Run {
  const before = process.cpuUsage();
  const { undecided } = analyse(resolve(parse(text, "bench.lore"), () => ({ problem: "is not here" })).model);
  return { time: process.cpuUsage(before).user / 1000, open: undecided.length };
}

const [width, height, left, bottom, top, right] = [640, 360, 60, 44, 16, 16];
const decades = [10, 100, 1000, 10_000, 100_000];

function picture(runs: Runs): string {
  const between = (value: number, low: number, high: number): number => Math.log(value / low) / Math.log(high / low);
  const x = (patterns: number): string => (left + between(patterns, sizes[0]!, sizes.at(-1)!) * (width - left - right)).toFixed(1);
  const y = (time: number): string => (height - bottom - between(time, decades[0]!, decades.at(-1)!) * (height - bottom - top)).toFixed(1);
  const grid = decades.map(
    (time) =>
      `<path d="M${left} ${y(time)}H${width - right}" stroke="#ddd"/><text x="${left - 8}" y="${y(time)}" dy="4" text-anchor="end">${time / 1000} s</text>`,
  );
  const ticks = sizes.map((patterns) => `<text x="${x(patterns)}" y="${height - bottom + 18}" text-anchor="middle">${patterns}</text>`);
  const lines = kinds.map(({ name, color }, kind) => {
    const points = sizes.map(
      (patterns, at) => [x(patterns), y(Math.max(decades[0]!, runs[kind]![at]!.time)), runs[kind]![at]!.open] as const,
    );
    return (
      `<polyline points="${points.map(([cx, cy]) => `${cx},${cy}`).join(" ")}" fill="none" stroke="${color}" stroke-width="2"/>` +
      points
        .map(([cx, cy, open]) => `<circle cx="${cx}" cy="${cy}" r="3.5" fill="${open > 0 ? "#fff" : color}" stroke="${color}"/>`)
        .join("") +
      `<text x="${left + 14}" y="${top + 18 + 18 * kind}" fill="${color}">${name}</text>`
    );
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="sans-serif" font-size="12" role="img">
<title>Checking time against the number of patterns</title>
<rect width="${width}" height="${height}" fill="#fff"/>
${[...grid, ...ticks].join("\n")}
<text x="${(left + width - right) / 2}" y="${height - 6}" text-anchor="middle">patterns (a hollow dot: the budget left something open)</text>
${lines.join("\n")}
</svg>
`;
}
